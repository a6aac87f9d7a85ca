using System.IO.Compression;
using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Parquet;
using Parquet.Schema;
using RotationStudy.Tests.Cli;

namespace RotationStudy.Tests.EndToEnd;

/// <summary>After a withdrawal of consent no file that the program writes holds the identifier.</summary>
public sealed partial class WithdrawalTests : Workspace
{
    /// <summary>Subject of the published growth data, taken as somebody who withdrew.</summary>
    private const string Who = "M07";

    private static readonly string Growth = Path.Combine(Repository.Root, "protocols", "growth-example");

    /// <summary>The published data with one reading of theirs that is asked about, so that lists name them.</summary>
    private readonly string exports;

    public WithdrawalTests()
    {
        exports = At("exports");
        Directory.CreateDirectory(exports);
        string text = File.ReadAllText(Path.Combine(Growth, "example-exports", "growth.csv"));
        string row = text.Split('\n').First(l => l.Contains(Who, StringComparison.Ordinal));
        File.WriteAllText(Path.Combine(exports, "growth.csv"), text.Replace(row, "40" + row[row.IndexOf(',', StringComparison.Ordinal)..], StringComparison.Ordinal));
    }

    [Fact]
    public async Task No_file_of_a_run_holds_the_identifier_and_the_count_is_there()
    {
        Done("study", Growth, exports, "--to", At("before"));
        Assert.NotEmpty(await Holding(At("before")));
        File.WriteAllText(At("list.txt"), Who + "\n");
        CommandLineRun run = Done("study", Growth, exports, "--to", At("after"), "--withdrawn", At("list.txt"), "--json");
        Assert.Equal(1, (int)JsonNode.Parse(run.Output)!["withdrawn_participants"]!);
        Assert.Empty(await Holding(At("after")));
        Assert.DoesNotContain(Who, run.Output + run.Error, StringComparison.Ordinal);
        Assert.Contains("consent withdrawn", File.ReadAllText(At("after", "report.html")), StringComparison.Ordinal);
        Assert.Contains("1 participant who withdrew consent", File.ReadAllText(At("after", "query-list.csv")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_list_in_the_protocol_folder_is_read_without_being_named_and_is_no_part_of_the_record()
    {
        string protocol = At("protocol");
        Directory.CreateDirectory(protocol);
        foreach (string file in Directory.EnumerateFiles(Growth))
            File.Copy(file, Path.Combine(protocol, Path.GetFileName(file)));
        File.WriteAllText(Path.Combine(protocol, "withdrawn.txt"), "# by letter\n" + Who + "\n");
        Done("archive", protocol, exports, "--to", At("archive"));
        Assert.Empty(await Holding(At("archive")));
        Assert.DoesNotContain("withdrawn.txt", File.ReadAllText(At("archive", "archive.json")), StringComparison.Ordinal);
        Assert.Contains("\"withdrawn\": 1", File.ReadAllText(At("archive", "archive.json")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_older_archive_loses_the_person_in_place_and_has_new_hashes()
    {
        Done("archive", Growth, exports, "--to", At("archive"));
        string before = File.ReadAllText(At("archive", "archive.sha256"));
        Assert.NotEmpty(await Holding(At("archive")));
        File.WriteAllText(At("list.txt"), Who + "\nnobody-here\n");
        CommandLineRun run = Done("withdraw", At("archive"), At("list.txt"));
        Assert.Contains("Participants removed: 1, with 4 rows", run.Output, StringComparison.Ordinal);
        Assert.Contains("line 2 of list.txt", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("nobody-here", run.Output, StringComparison.Ordinal);
        Assert.Empty(await Holding(At("archive")));
        Assert.NotEqual(before, File.ReadAllText(At("archive", "archive.sha256")));
        Assert.Equal([At("archive"), At("exports"), At("list.txt")], Directory.EnumerateFileSystemEntries(Root).Order(StringComparer.Ordinal));
        Done("study", Growth, At("archive"), "--to", At("run"));
    }

    [Fact]
    public void An_archive_without_them_is_left_as_it_was()
    {
        Done("archive", Growth, exports, "--to", At("archive"));
        string before = File.ReadAllText(At("archive", "archive.sha256"));
        File.WriteAllText(At("list.txt"), "nobody-here\n");
        Assert.Contains("left as it was", Done("withdraw", At("archive"), At("list.txt")).Output, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllText(At("archive", "archive.sha256")));
    }

    [Fact]
    public void A_list_that_is_not_there_or_cannot_be_read_stops_everything()
    {
        Assert.Equal(4, CommandLineRun.Of("study", Growth, exports, "--to", At("run"), "--withdrawn", At("none.txt")).ExitCode);
        File.WriteAllText(At("list.txt"), "M01, M02\n");
        CommandLineRun run = CommandLineRun.Of("study", Growth, exports, "--to", At("run"), "--withdrawn", At("list.txt"));
        Assert.Equal(4, run.ExitCode);
        Assert.Contains("list.txt:1:", run.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(At("run")));
    }

    private static CommandLineRun Done(params string[] args)
    {
        CommandLineRun run = CommandLineRun.Of(args);
        Assert.True(run.ExitCode == 0, $"exit code {run.ExitCode}: {run.Error}");
        return run;
    }

    /// <summary>Files of a folder that hold the identifier, packed ones looked into.</summary>
    private static async Task<List<string>> Holding(string folder)
    {
        List<string> holding = [];
        foreach (string file in Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories))
        {
            byte[] bytes = await File.ReadAllBytesAsync(file);
            bool holds = Path.GetExtension(file) switch
            {
                ".xlsx" => Unpacked(bytes).Any(Holds),
                ".parquet" => await InColumns(file) || Holds(bytes),
                // Three letters turn up by chance in the letters of an embedded picture.
                ".html" => Holds(Encoding.UTF8.GetBytes(EmbeddedPicture().Replace(Encoding.UTF8.GetString(bytes), ""))),
                _ => Holds(bytes),
            };
            if (holds)
                holding.Add(Path.GetRelativePath(folder, file));
        }
        return holding;
    }

    [GeneratedRegex("base64,[A-Za-z0-9+/=]*")]
    private static partial Regex EmbeddedPicture();

    private static bool Holds(byte[] bytes) => bytes.AsSpan().IndexOf(Encoding.UTF8.GetBytes(Who)) >= 0;

    private static List<byte[]> Unpacked(byte[] bytes)
    {
        using ZipArchive zip = new(new MemoryStream(bytes));
        return [.. zip.Entries.Select(e =>
        {
            using Stream stream = e.Open();
            using MemoryStream copy = new();
            stream.CopyTo(copy);
            return copy.ToArray();
        })];
    }

    private static async Task<bool> InColumns(string file)
    {
        await using ParquetReader reader = await ParquetReader.CreateAsync(file);
        for (int g = 0; g < reader.RowGroupCount; g++)
        {
            using ParquetRowGroupReader group = reader.OpenRowGroupReader(g);
            foreach (DataField field in reader.Schema.GetDataFields().Where(f => f.ClrType == typeof(ReadOnlyMemory<char>)))
            {
                string?[] texts = new string?[group.RowCount];
                await group.ReadAsync(field, texts.AsMemory()!);
                if (texts.Any(t => t?.Contains(Who, StringComparison.Ordinal) == true))
                    return true;
            }
        }
        return false;
    }
}
