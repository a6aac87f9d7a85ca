using System.Diagnostics;
using RotationStudy.Cli.Running;
using RotationStudy.Report.Record;

namespace RotationStudy.Tests.Audit;

/// <summary>A run that is killed, which no program can notice, leaves the earlier run as it was or nothing that looks finished.</summary>
public sealed class KilledRunTests(GrowthRun growth) : IClassFixture<GrowthRun>
{
    [Theory]
    [InlineData(200)]
    [InlineData(900)]
    [InlineData(1600)]
    public async Task A_killed_run_leaves_no_report_that_looks_finished(int milliseconds)
    {
        string run = Path.Combine(growth.Folder, FormattableString.Invariant($"killed-{milliseconds}"));
        ProcessStartInfo start = new("dotnet", [typeof(CommandLine).Assembly.Location, "study", GrowthRun.Protocol, GrowthRun.Exports, "--to", run, "--quiet"]);
        using Process process = Process.Start(start)!;
        using CancellationTokenSource patience = new(milliseconds);
        try
        {
            await process.WaitForExitAsync(patience.Token);
        }
        catch (OperationCanceledException)
        {
            process.Kill(entireProcessTree: true);
            await process.WaitForExitAsync();
        }
        if (Directory.Exists(run))
            Assert.Empty(RunVerifier.Verify(run).Departures);
    }
}
