using CsCheck;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Records;

namespace RotationStudy.Tests.Checks;

/// <summary>What must hold for any export, however damaged.</summary>
public sealed class RecordCheckerPropertiesTests
{
    private static readonly string[] Files = ["participants.csv", "visits.csv", "knee_exams.csv", "laxity.csv", "imaging.csv", "outcomes.csv", "events.csv", "milestones.csv"];

    private static readonly string[] Usual =
        ["", "NA", "L", "R", "A-001", "B-001", "baseline", "month_12", "0", "-1", "1", "2,5", "1e5", "x", " ", "yes", "no", "é", "NaN", "a,b", "90"];

    private static readonly Gen<string> Cell = Gen.OneOf(
        Gen.Int[0, Usual.Length - 1].Select(i => Usual[i]),
        Gen.String[Gen.Char[' ', '~'], 0, 6]);

    [Fact]
    public void Shuffling_the_rows_of_an_export_changes_nothing_but_line_numbers()
    {
        Damaged.Select(Gen.Int[0, 1_000_000]).Sample(
            (damage, seed) =>
            {
                using TestExport export = TestExport.Clean();
                foreach ((int file, int line, int column, string value) in damage)
                    Damage(export, Files[file], line, column, value);
                CheckedRecords before = export.CheckAll();
                Random random = new(seed);
                foreach (string file in Files)
                {
                    string[] rows = [.. export.Lines(file).Skip(1)];
                    random.Shuffle(rows);
                    for (int i = 0; i < rows.Length; i++)
                        export.SetLine(file, i + 2, rows[i]);
                }
                return Contents(before) == Contents(export.CheckAll());
            },
            iter: 60);
    }

    [Fact]
    public void Rows_read_are_rows_used_and_rows_set_aside_whatever_the_damage()
    {
        Damaged.Sample(
            damage =>
            {
                using TestExport export = TestExport.Clean();
                foreach ((int file, int line, int column, string value) in damage)
                    Damage(export, Files[file], line, column, value);
                CheckedRecords records = export.CheckAll();
                return records.Accounts.All(a => a.Balances && a.Used == records[a.Table].Rows && a.Read == export.Lines(a.File).Count - 1);
            },
            iter: 120);
    }

    [Fact]
    public void Checking_twice_gives_the_same()
    {
        using TestExport export = TestExport.Clean().Set("events.csv", 2, "side", "x").AddRow("outcomes.csv", "A-001,baseline,80,3,6");
        Assert.Equal(export.Check().Findings.ToArray(), export.Check().Findings.ToArray());
    }

    private static Gen<(int File, int Line, int Column, string Value)[]> Damaged
        => Gen.Select(Gen.Int[0, Files.Length - 1], Gen.Int[2, 30], Gen.Int[0, 13], Cell).Array[1, 12];

    private static void Damage(TestExport export, string file, int line, int column, string value)
    {
        List<string> lines = export.Lines(file);
        string[] header = lines[0].Split(',');
        // A comma makes the row ragged, which is one of the damages wanted; such a row is not damaged again.
        if (line > lines.Count || lines[line - 1].Split(',').Length != header.Length || value.Contains('"'))
            return;
        export.Set(file, line, header[column % header.Length], value);
    }

    /// <summary>Everything about records that may not depend on the order of rows, as text.</summary>
    private static string Contents(CheckedRecords records)
    {
        IEnumerable<string> tables = records.Tables.SelectMany(t => Enumerable.Range(0, t.Rows).Select(row => $"{t.Definition.Name}: {string.Join(';', t.Columns.Select(c => Show(c, row)))}"));
        IEnumerable<string> accounts = records.Accounts.Select(a => $"{a.File} {a.Read} {a.Used} {string.Join(' ', a.SetAside)}");
        IEnumerable<string> findings = records.Findings.Select(f => $"{f.Rule} {f.File} {f.Column} {f.Value} {f.Key}").Order(StringComparer.Ordinal);
        return string.Join('\n', tables.Concat(accounts).Concat(findings));
    }

    private static string Show(RecordColumn column, int row) => column.MissingReason(row) ?? column switch
    {
        NumberColumn number => number.Values[row].ToString("R", System.Globalization.CultureInfo.InvariantCulture),
        CodeColumn code => code.Definition.Codes[code.Indices[row]].Code,
        IdentifierColumn identifier => identifier.Values[row],
        _ => "?",
    };
}
