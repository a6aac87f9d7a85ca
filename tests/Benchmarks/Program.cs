using BenchmarkDotNet.Running;
using RotationStudy.Benchmarks;

// dotnet run -c Release --project tests/Benchmarks -- compare <cohort-folder> [part of a fit's name] : our seconds beside other libraries'.
// Any other arguments go to the benchmark runner.
if (args.Length > 1 && args[0] == "compare")
    return PeerComparison.Run(args[1], args.Length > 2 ? args[2] : "");
BenchmarkSwitcher.FromAssembly(typeof(Program).Assembly).Run(args);
return 0;
