using RotationStudy.Report.Files;
using RotationStudy.Report.Record;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Report.Record;

public sealed class RunFolderTests : IDisposable
{
    private readonly DirectoryInfo _temp = Directory.CreateTempSubdirectory("run-folder-");

    public void Dispose() => _temp.Delete(recursive: true);

    private string Target => Path.Combine(_temp.FullName, "run");

    [Fact]
    public void Nothing_is_seen_until_the_run_is_complete()
    {
        using (RunFolder folder = RunFolder.Open(Target))
        {
            folder.Write("a.txt", "one");
            Assert.False(Directory.Exists(Target));
            folder.Complete(SampleResults.Study());
        }
        Assert.Equal("one", File.ReadAllText(Path.Combine(Target, "a.txt")));
        Assert.Equal(["run"], _temp.EnumerateFileSystemInfos().Select(f => f.Name));
    }

    [Fact]
    public void The_record_names_every_output_with_its_hash()
    {
        CompleteRun("hello");
        RunRecord record = RunRecord.Read(Target);

        FileFacts file = Assert.Single(record.OutputFiles);
        Assert.Equal("sub/a.txt", file.Name);
        // SHA-256 of "hello", as sha256sum of GNU coreutils 9.1 gives it.
        Assert.Equal("2cf24dba5fb0a30e26e83b2ac5b9e29e1b161e5c1fa7425e73043362938b9824", file.Sha256);
        Assert.Equal(5, record.ExitCode);
        Assert.Equal("1 planned question could not be answered; the report says why.", record.ExitMeaning);
    }

    [Fact]
    public void A_run_that_fails_leaves_the_old_run_intact()
    {
        CompleteRun("old");
        using (RunFolder folder = RunFolder.Open(Target, overwrite: true))
            folder.Write("sub/a.txt", "new");

        Assert.Equal("old", File.ReadAllText(Path.Combine(Target, "sub", "a.txt")));
        Assert.Equal(["run"], _temp.EnumerateFileSystemInfos().Select(f => f.Name));
    }

    [Fact]
    public void A_finished_run_is_replaced_only_when_asked()
    {
        CompleteRun("old");
        OutputError error = Assert.Throws<OutputError>(() => RunFolder.Open(Target));
        Assert.Equal(OutputFault.RunExists, error.Fault);
        Assert.Contains("Choose another folder", error.Message, StringComparison.Ordinal);

        CompleteRun("new", overwrite: true);
        Assert.Equal("new", File.ReadAllText(Path.Combine(Target, "sub", "a.txt")));
        Assert.Equal(["run"], _temp.EnumerateFileSystemInfos().Select(f => f.Name));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_folder_that_is_no_run_is_never_touched(bool overwrite)
    {
        Directory.CreateDirectory(Target);
        File.WriteAllText(Path.Combine(Target, "thesis.txt"), "mine");
        OutputError error = Assert.Throws<OutputError>(() => RunFolder.Open(Target, overwrite));
        Assert.Equal(OutputFault.NotARun, error.Fault);
        Assert.Equal("mine", File.ReadAllText(Path.Combine(Target, "thesis.txt")));
    }

    [Fact]
    public void Two_runs_into_one_folder_exclude_each_other()
    {
        using RunFolder first = RunFolder.Open(Target);
        OutputError error = Assert.Throws<OutputError>(() => RunFolder.Open(Target));
        Assert.Equal(OutputFault.InUse, error.Fault);
        first.Complete(SampleResults.Study());
    }

    [Fact]
    public void What_a_killed_run_left_is_cleared_and_a_half_replaced_run_is_put_back()
    {
        CompleteRun("old");
        Directory.Move(Target, Path.Combine(_temp.FullName, ".run.previous"));
        Directory.CreateDirectory(Path.Combine(_temp.FullName, ".run.unfinished", "sub"));

        Assert.Equal(OutputFault.RunExists, Assert.Throws<OutputError>(() => RunFolder.Open(Target)).Fault);
        Assert.Equal("old", File.ReadAllText(Path.Combine(Target, "sub", "a.txt")));
        CompleteRun("new", overwrite: true);
        Assert.Equal(["run"], _temp.EnumerateFileSystemInfos().Select(f => f.Name));
    }

    [Fact]
    public void A_file_in_the_way_is_named()
    {
        string file = Path.Combine(_temp.FullName, "file");
        File.WriteAllText(file, "x");
        Assert.Equal(OutputFault.NotARun, Assert.Throws<OutputError>(() => RunFolder.Open(file)).Fault);
        Assert.NotNull(Assert.Throws<OutputError>(() => RunFolder.Open(Path.Combine(file, "below"))).Hint);
    }

    [Theory]
    [InlineData("../a.txt")]
    [InlineData("/etc/a.txt")]
    [InlineData("a//b")]
    [InlineData("record.json")]
    [InlineData("a b.txt")]
    public void A_name_cannot_lead_out_of_the_folder(string name)
    {
        using RunFolder folder = RunFolder.Open(Target);
        Assert.Throws<ArgumentException>(() => folder.Write(name, "x"));
    }

    [Theory]
    [InlineData(28, OutputFault.DiskFull)]
    [InlineData(122, OutputFault.DiskFull)]
    [InlineData(30, OutputFault.ReadOnly)]
    [InlineData(20, OutputFault.BadPath)]
    [InlineData(5, OutputFault.Other)]
    public void Faults_of_the_file_system_become_clear_errors(int errno, OutputFault expected)
    {
        OutputError error = OutputError.From(new IOException("fault", errno), "/some/place");
        Assert.Equal(expected, error.Fault);
        Assert.StartsWith("/some/place: ", error.Message, StringComparison.Ordinal);
    }

    private void CompleteRun(string content, bool overwrite = false)
    {
        using RunFolder folder = RunFolder.Open(Target, overwrite);
        folder.Write("sub/a.txt", content);
        folder.Complete(SampleResults.Study());
    }
}
