using RotationStudy.Report;
using RotationStudy.Report.Record;

namespace RotationStudy.Tests.Report;

public sealed class StudyReportTests : IDisposable
{
    private readonly DirectoryInfo _temp = Directory.CreateTempSubdirectory("study-report-");

    public void Dispose() => _temp.Delete(recursive: true);

    [Fact]
    public void Two_runs_write_the_same_bytes_and_the_record_names_them_all()
    {
        string first = Run("first"), second = Run("second");
        string[] names = Names(first);

        Assert.Equal(names, Names(second));
        Assert.All(names, n => Assert.Equal(File.ReadAllBytes(Path.Combine(first, n)), File.ReadAllBytes(Path.Combine(second, n))));
        Assert.Equal(names.Where(n => n is not (RunRecord.FileName or RunChain.FileName)), RunRecord.Read(first).OutputFiles.Select(f => f.Name));
        Assert.Contains("report.html", names);
        Assert.Contains("results.parquet", names);
        Assert.Contains("figures/forest.svg", names);
        Assert.Contains("tables/Q1-baseline.csv", names);
        Assert.Contains("query-list.csv", names);
    }

    private string Run(string name)
    {
        string path = Path.Combine(_temp.FullName, name);
        using RunFolder folder = RunFolder.Open(path);
        folder.Write("query-list.csv", "site,question\n");
        StudyReport.Write(SampleResults.Study(), folder);
        return path;
    }

    private static string[] Names(string folder)
        => [.. Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories).Select(f => Path.GetRelativePath(folder, f).Replace('\\', '/')).Order(StringComparer.Ordinal)];
}
