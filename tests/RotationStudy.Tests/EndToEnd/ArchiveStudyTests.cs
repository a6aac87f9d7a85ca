using RotationStudy.Tests.Cli;

namespace RotationStudy.Tests.EndToEnd;

/// <summary>A study from an archive is the study from the export that the archive was made from.</summary>
public sealed class ArchiveStudyTests : Workspace
{
    private static readonly string Growth = Path.Combine(Repository.Root, "protocols", "growth-example");

    [Fact]
    public void A_study_from_the_archive_gives_the_same_bytes_as_from_the_export()
    {
        string exports = Path.Combine(Growth, "example-exports");
        Done("study", Growth, exports, "--to", At("from-export"));
        Done("archive", Growth, exports, "--to", At("archive"));
        Done("study", Growth, At("archive"), "--to", At("from-archive"));
        string[] files = Names("from-export");
        Assert.Contains("report.html", files);
        Assert.Contains("record.json", files);
        Assert.Equal(files, Names("from-archive"));
        Assert.All(files, f => Assert.True(
            File.ReadAllBytes(At("from-export", f)).AsSpan().SequenceEqual(File.ReadAllBytes(At("from-archive", f))), $"{f} differs."));
    }

    [Fact]
    public void The_demo_s_findings_and_rows_are_the_same_from_the_archive()
    {
        Done("archive", Protocol, CopyExport(), "--to", At("archive"));
        string fromExport = Done("examine", Protocol, At("exports"), "--to", At("one")).Output;
        string fromArchive = Done("examine", Protocol, At("archive"), "--to", At("two")).Output;
        Assert.Equal(fromExport.Replace(At("one"), "", StringComparison.Ordinal), fromArchive.Replace(At("two"), "", StringComparison.Ordinal));
        Assert.Equal(File.ReadAllBytes(At("one", "query-list.csv")), File.ReadAllBytes(At("two", "query-list.csv")));
    }

    [Fact]
    public void A_changed_file_gives_4_and_names_the_file()
    {
        Done("archive", Growth, Path.Combine(Growth, "example-exports"), "--to", At("archive"));
        string file = Directory.EnumerateFiles(At("archive"), "*.parquet").Order(StringComparer.Ordinal).Last();
        File.AppendAllText(file, " ");
        CommandLineRun run = CommandLineRun.Of("study", Growth, At("archive"), "--to", At("run"));
        Assert.Equal(4, run.ExitCode);
        Assert.Contains(Path.GetFileName(file), run.Error, StringComparison.Ordinal);
        Assert.Contains("was changed after the archive was made", run.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(At("run")));
    }

    [Fact]
    public void An_archive_is_replaced_only_when_asked_and_another_folder_never()
    {
        string exports = Path.Combine(Growth, "example-exports");
        Done("archive", Growth, exports, "--to", At("archive"));
        CommandLineRun again = CommandLineRun.Of("archive", Growth, exports, "--to", At("archive"));
        Assert.Equal(4, again.ExitCode);
        Assert.Contains("A finished archive lies here", again.Error, StringComparison.Ordinal);
        Done("archive", Growth, exports, "--to", At("archive"), "--replace");
        Directory.CreateDirectory(At("other"));
        File.WriteAllText(At("other", "thesis.txt"), "mine");
        Assert.Equal(4, CommandLineRun.Of("archive", Growth, exports, "--to", At("other"), "--replace").ExitCode);
        Assert.Equal("mine", File.ReadAllText(At("other", "thesis.txt")));
    }

    [Fact]
    public void An_export_that_must_stop_makes_no_archive()
    {
        File.Delete(Path.Combine(CopyExport(), "visits.csv"));
        CommandLineRun run = CommandLineRun.Of("archive", Protocol, At("exports"), "--to", At("archive"));
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("visits.csv", run.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(At("archive")));
    }

    private static CommandLineRun Done(params string[] args)
    {
        CommandLineRun run = CommandLineRun.Of(args);
        Assert.True(run.ExitCode == 0, $"exit code {run.ExitCode}: {run.Error}");
        return run;
    }

    private string[] Names(string run)
        => [.. Directory.EnumerateFiles(At(run), "*", SearchOption.AllDirectories).Select(f => Path.GetRelativePath(At(run), f)).Order(StringComparer.Ordinal)];
}
