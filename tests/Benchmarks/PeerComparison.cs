using System.Diagnostics;
using System.Globalization;
using System.Text.Json;

namespace RotationStudy.Benchmarks;

/// <summary>Times our fits on a cohort folder and prints them beside the seconds that other libraries took on the same data.</summary>
internal static class PeerComparison
{
    private const int Repeats = 5;
    private const double WarmUpSeconds = 0.5;
    private const double SlowSeconds = 5;

    internal static int Run(string cohortFolder, string part)
    {
        PeerCohort cohort = PeerCohort.Read(cohortFolder);
        int persons = cohort.AllKnees.Rows / 2;
        Dictionary<string, double> r = Seconds($"peer_{persons}.json");
        Dictionary<string, double> python = Seconds($"py_{persons}.json");
        Console.WriteLine(FormattableString.Invariant($"{persons} persons, {cohort.Knees.Rows} complete knees; {Environment.ProcessorCount} cores; median of {Repeats} runs after warming up; seconds of R and statsmodels as recorded in tests/Benchmarks/peers"));
        Console.WriteLine();
        Console.WriteLine("| fit | ours, s | processor, s | allocated, MB | R, s | times | statsmodels, s | times |");
        Console.WriteLine("|---|---:|---:|---:|---:|---:|---:|---:|");
        foreach (PeerFit fit in PeerFits.All)
        {
            if (!fit.Name.Contains(part, StringComparison.Ordinal))
                continue;
            (double seconds, double processor, double megabytes) = Time(fit.Prepare(cohort));
            Console.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"| {fit.Name} | {seconds:G3} | {processor:G3} | {megabytes:0.00} | {Against(r, fit.Name, seconds)} | {Against(python, fit.PythonName, seconds)} |"));
        }
        return 0;
    }

    // Processor seconds (all threads) stay comparable when other work shares the machine; they have a grain of 10 ms over all repeats.
    private static (double Seconds, double Processor, double Megabytes) Time(Action fit)
    {
        Stopwatch watch = Stopwatch.StartNew();
        do
            fit();
        while (watch.Elapsed.TotalSeconds < WarmUpSeconds);
        int repeats = watch.Elapsed.TotalSeconds > SlowSeconds ? 1 : Repeats;
        double[] seconds = new double[repeats];
        long before = GC.GetTotalAllocatedBytes(precise: true);
        TimeSpan processorBefore = Environment.CpuUsage.TotalTime;
        for (int i = 0; i < repeats; i++)
        {
            watch.Restart();
            fit();
            seconds[i] = watch.Elapsed.TotalSeconds;
        }
        double processor = (Environment.CpuUsage.TotalTime - processorBefore).TotalSeconds / repeats;
        long allocated = (GC.GetTotalAllocatedBytes(precise: true) - before) / repeats;
        Array.Sort(seconds);
        return (seconds[repeats / 2], processor, allocated / 1e6);
    }

    private static string Against(Dictionary<string, double> theirs, string? name, double ours)
        => name is not null && theirs.TryGetValue(name, out double seconds)
            ? string.Create(CultureInfo.InvariantCulture, $"{seconds:G3} | {seconds / ours:0.0}")
            : "- | -";

    private static Dictionary<string, double> Seconds(string file)
    {
        Dictionary<string, double> seconds = new(StringComparer.Ordinal);
        string path = Path.Combine(Root(), "tests", "Benchmarks", "peers", file);
        if (!File.Exists(path))
            return seconds;
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(path));
        foreach (JsonProperty fit in document.RootElement.GetProperty("fits").EnumerateObject())
        {
            if (fit.Value.TryGetProperty("median_s", out JsonElement median))
                seconds[fit.Name] = median.GetDouble();
        }
        return seconds;
    }

    private static string Root()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "RotationStudy.sln")))
                return folder.FullName;
        }
        throw new InvalidOperationException("RotationStudy.sln was not found above the binaries.");
    }
}
