using System.Text.Json;
using RotationStudy.Tests.Cli;

namespace RotationStudy.Tests.Audit;

/// <summary>The auditor's second run as an auditor would do it: the archived run, exports, and an empty folder.</summary>
public sealed class AuditCommandTests(GrowthRun growth) : IClassFixture<GrowthRun>
{
    [Fact]
    public void The_same_exports_are_reproduced_to_the_byte()
    {
        CommandLineRun audit = Audit(GrowthRun.Exports, "same");
        Assert.True(audit.ExitCode == 0, audit.Error);
        Assert.StartsWith("Reproduced to the byte: all ", audit.Output, StringComparison.Ordinal);
        Assert.Equal("reproduced", Told("same").GetProperty("outcome").GetString());
        Assert.Contains("Reproduced to the byte", File.ReadAllText(At("same", "audit.html")), StringComparison.Ordinal);
    }

    [Fact]
    public void A_run_that_was_tampered_with_is_not_relied_on()
    {
        string run = growth.CopyOfRun("tampered");
        File.AppendAllText(Path.Combine(run, "results.csv"), "\n");
        CommandLineRun audit = CommandLineRun.Of("audit", run, GrowthRun.Exports, "--to", At("refused"));
        Assert.Equal(6, audit.ExitCode);
        Assert.StartsWith("results.csv: The file has ", audit.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(At("refused")));
    }

    [Fact]
    public void Fresh_exports_without_the_earlier_ones_are_refused_with_the_next_step()
    {
        CommandLineRun audit = Audit(growth.ExportsWith("fresh-alone", rows => rows.Skip(4)), "alone");
        Assert.Equal(1, audit.ExitCode);
        Assert.Contains("growth.csv", audit.Error, StringComparison.Ordinal);
        Assert.Contains("--earlier", audit.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Earlier_exports_of_another_run_are_refused()
    {
        string fresh = growth.ExportsWith("fresh-wrong", rows => rows.Skip(4));
        CommandLineRun audit = Audit(fresh, "wrong", "--earlier", fresh);
        Assert.Equal(1, audit.ExitCode);
        Assert.Contains("does not hold the exports of the archived run", audit.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Another_order_of_rows_changes_no_record_and_no_result()
    {
        CommandLineRun audit = Audit(growth.ExportsWith("reversed", rows => rows.Reverse()), "order", "--earlier", GrowthRun.Exports);
        Assert.True(audit.ExitCode == 0, audit.Error);
        Assert.Equal("results_unchanged", Told("order").GetProperty("outcome").GetString());
        Assert.True(Told("order").GetProperty("data").GetProperty("none").GetBoolean());
    }

    [Fact]
    public void A_shift_is_taken_apart_into_removed_changed_and_added_participants_and_the_sum_is_checked()
    {
        string fresh = growth.ExportsWith("fresh", rows =>
        [
            .. rows.Where(r => !r.Contains(",M01,", StringComparison.Ordinal)).Select(r => r == "24.5,14,F11,Female" ? "30.5,14,F11,Female" : r),
            "22,8,M99,Male", "24,10,M99,Male", "27,12,M99,Male", "31,14,M99,Male",
        ]);
        string before = growth.ExportsWith("before", rows => rows);
        Audit(fresh, "apart", "--earlier", before);
        JsonElement told = Told("apart");
        Assert.Equal(["M01 removed", "M99 added"], People(told).Where(p => p[0] == 'M'));
        foreach (JsonElement shift in told.GetProperty("shifts").EnumerateArray().Where(s => s.GetProperty("is_planned").GetBoolean()))
        {
            Assert.True(shift.GetProperty("sum_holds").GetBoolean(), shift.GetProperty("id").GetString());
            JsonElement[] steps = [.. shift.GetProperty("steps").EnumerateArray()];
            Assert.Equal(["removed", "changed", "added"], steps.Select(s => s.GetProperty("because").GetString()));
            Assert.Equal(shift.GetProperty("shift").GetDouble(), steps.Sum(s => s.GetProperty("order_averaged").GetDouble()), 1e-9);
        }
    }

    [Fact]
    public void A_shift_because_of_one_removed_participant_lies_with_that_step_and_that_participant_alone()
    {
        Audit(growth.ExportsWith("one-less", rows => rows.Where(r => !r.Contains(",M10,", StringComparison.Ordinal))), "less", "--earlier", GrowthRun.Exports);
        JsonElement[] planned = [.. Told("less").GetProperty("shifts").EnumerateArray().Where(s => s.GetProperty("is_planned").GetBoolean())];
        Assert.NotEmpty(planned);
        foreach (JsonElement shift in planned)
        {
            double total = shift.GetProperty("shift").GetDouble();
            Assert.Equal([total, 0, 0], shift.GetProperty("steps").EnumerateArray().Select(s => s.GetProperty("shift").GetDouble()));
            JsonElement person = Assert.Single(shift.GetProperty("persons").EnumerateArray());
            Assert.Equal("M10", person.GetProperty("participant").GetString());
            Assert.Equal(total, person.GetProperty("shift").GetDouble());
        }
        Assert.Equal(4, Told("less").GetProperty("data").GetProperty("rows")[0].GetProperty("removed").GetInt32());
    }

    private static IEnumerable<string> People(JsonElement told)
        => told.GetProperty("data").GetProperty("participants").EnumerateArray()
            .Select(p => $"{p.GetProperty("participant").GetString()} {p.GetProperty("what").GetString()}");

    private CommandLineRun Audit(string exports, string to, params string[] more)
        => CommandLineRun.Of(["audit", growth.Run, exports, "--to", At(to), .. more]);

    private JsonElement Told(string folder) => JsonDocument.Parse(File.ReadAllText(At(folder, "audit.json"))).RootElement;

    private string At(params string[] parts) => Path.Combine([growth.Folder, .. parts]);
}
