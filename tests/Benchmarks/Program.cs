using System.Globalization;
using BenchmarkDotNet.Running;
using RotationStudy.Benchmarks;
using RotationStudy.Benchmarks.Scale;

// dotnet run -c Release --project tests/Benchmarks -- compare <cohort-folder> [part of a fit's name] : our seconds beside other libraries'.
// dotnet run -c Release --project tests/Benchmarks -- ingest <work-folder> [rows] : reading and checking a wide table, made up in the folder.
// dotnet run -c Release --project tests/Benchmarks -- scale <protocol> <exports> <work-folder> : every stage of a study.
// Any other arguments go to the benchmark runner.
switch (args)
{
    case ["compare", string cohort, .. string[] part]:
        return PeerComparison.Run(cohort, part.FirstOrDefault(""));
    case ["ingest", string folder, .. string[] rows]:
        return IngestTiming.Run(folder, int.Parse(rows.FirstOrDefault("1000000"), CultureInfo.InvariantCulture));
    case ["scale", string protocol, string exports, string folder]:
        return ScaleTiming.Run(protocol, exports, folder);
    default:
        BenchmarkSwitcher.FromAssembly(typeof(Program).Assembly).Run(args);
        return 0;
}
