using System.Diagnostics;
using System.Globalization;

namespace RotationStudy.Benchmarks.Scale;

/// <summary>Time and memory of stages that follow each other: seconds, processor seconds of all threads, and the peak of resident memory.</summary>
/// <remarks>
/// The peak is that of the stage where the system can forget the peak before it (Linux), else that of the process so far. Processor
/// seconds stay comparable when other work shares the machine.
/// </remarks>
internal sealed class StageMeter : IProgress<string>
{
    private readonly Stopwatch watch = new();
    private readonly Stopwatch whole = Stopwatch.StartNew();
    private readonly TimeSpan processorAtStart = Environment.CpuUsage.TotalTime;
    private TimeSpan processor;
    private string? stage;
    private double peakOfAll;

    internal StageMeter()
    {
        Console.WriteLine("| stage | s | processor s | peak MB | allocated MB |");
        Console.WriteLine("|---|---:|---:|---:|---:|");
    }

    private long allocated;

    /// <summary>Ends the stage before and begins the next.</summary>
    public void Report(string value)
    {
        End();
        stage = value;
        ForgetPeak();
        processor = Environment.CpuUsage.TotalTime;
        allocated = GC.GetTotalAllocatedBytes();
        watch.Restart();
    }

    /// <summary>Ends the last stage and prints the sum.</summary>
    internal void Finish()
    {
        End();
        Print("all", whole.Elapsed.TotalSeconds, (Environment.CpuUsage.TotalTime - processorAtStart).TotalSeconds, peakOfAll, GC.GetTotalAllocatedBytes() / 1e6);
    }

    private void End()
    {
        if (stage is null)
            return;
        double seconds = watch.Elapsed.TotalSeconds;
        double peak = Peak();
        peakOfAll = Math.Max(peakOfAll, peak);
        Print(stage, seconds, (Environment.CpuUsage.TotalTime - processor).TotalSeconds, peak, (GC.GetTotalAllocatedBytes() - allocated) / 1e6);
        stage = null;
    }

    private static void Print(string what, double seconds, double processorSeconds, double peak, double allocatedMegabytes)
        => Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {what} | {seconds:0.00} | {processorSeconds:0.00} | {peak:0} | {allocatedMegabytes:0} |"));

    private static void ForgetPeak()
    {
        if (OperatingSystem.IsLinux())
            File.WriteAllText("/proc/self/clear_refs", "5");
    }

    private static double Peak()
    {
        if (!OperatingSystem.IsLinux())
        {
            using Process self = Process.GetCurrentProcess();
            return self.PeakWorkingSet64 / 1e6;
        }
        string line = File.ReadLines("/proc/self/status").First(l => l.StartsWith("VmHWM:", StringComparison.Ordinal));
        return double.Parse(line.AsSpan(6, line.Length - 8), CultureInfo.InvariantCulture) * 1024 / 1e6;
    }
}
