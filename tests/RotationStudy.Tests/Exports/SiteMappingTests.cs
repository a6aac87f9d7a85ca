using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Tests.Exports;

/// <summary>Files of a site's own form become rows of the protocol, and whatever does not fit is said at its place in the site's file.</summary>
public sealed class SiteMappingTests : IDisposable
{
    private static readonly string Source = Path.Combine(Repository.Root, "protocols", "two-sites-example");

    private readonly string folder = Directory.CreateTempSubdirectory("rotationstudy-mapping-").FullName;

    public SiteMappingTests()
    {
        foreach (string path in Directory.EnumerateFiles(Source, "*", SearchOption.AllDirectories))
        {
            string target = Path.Combine(folder, Path.GetRelativePath(Source, path));
            Directory.CreateDirectory(Path.GetDirectoryName(target)!);
            File.Copy(path, target);
        }
    }

    private string Hips => Path.Combine(folder, "example-exports", "south", "hips.csv");

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void Both_sites_are_read_to_the_last_row_and_units_codes_and_commas_are_the_protocols()
    {
        CheckedRecords records = Check();
        RecordTable people = records["participants"];
        RecordTable knees = records["knee_exams"];
        Assert.Equal((40, 79), (people.Rows, knees.Rows));
        Assert.Equal("map.no_values", Assert.Single(records.Findings).Rule);
        // Worked by hand from the first line of the two files of the site: 122 months, 1.292 m, "girl", 42,5 or whole degrees.
        string[] first = File.ReadAllLines(Hips, System.Text.Encoding.Latin1)[1].Split(';');
        int row = ((IdentifierColumn)people["participant_id"]).Values.IndexOf("S-021");
        Assert.InRange(((NumberColumn)people["age_years"]).Values[row], 10, 17);
        Assert.InRange(((NumberColumn)people["height_cm"]).Values[row], 100, 200);
        int knee = ((IdentifierColumn)knees["participant_id"]).Values.IndexOf("S-021");
        double expected = double.Parse(first[1].Replace(',', '.'), System.Globalization.CultureInfo.InvariantCulture);
        Assert.Equal(expected, ((NumberColumn)knees["hip_internal_rotation_deg"]).Values[knee]);
    }

    [Fact]
    public void A_sites_folder_that_is_a_link_out_of_the_export_is_not_followed()
    {
        string south = Path.GetDirectoryName(Hips)!;
        Directory.Move(south, Path.Combine(folder, "elsewhere"));
        Directory.CreateSymbolicLink(south, Path.Combine(folder, "elsewhere"));
        Assert.All(Check().Findings.Where(f => f.Severity == Severity.Stop), f => Assert.Equal(("file.outside", "south"), (f.Rule, f.File)));
        Assert.True(Check().MustStop);
    }

    [Fact]
    public void A_fault_in_a_sites_file_is_told_at_its_line_there()
    {
        Edit(lines => lines[3] = lines[3].Split(';')[0] + ";500;30;40;30");
        Finding far = Assert.Single(Check().Findings, f => f.Rule == "range.possible");
        Assert.Equal(("south/hips.csv", 4, "hip_internal_rotation_deg", "500"), (far.File, far.Line, far.Column, far.Value));
    }

    [Fact]
    public void A_column_that_nobody_mapped_is_a_finding_and_one_that_is_gone_stops()
    {
        Edit(lines =>
        {
            for (int i = 0; i < lines.Length; i++)
                lines[i] += i == 0 ? ";Gewicht" : ";50";
        });
        Finding spare = Assert.Single(Check().Findings, f => f.Rule == "map.unmapped");
        Assert.Equal(("south/hips.csv", "Gewicht"), (spare.File, spare.Column));
        Edit(lines => lines[0] = lines[0].Replace("Innenrotation links", "Innenrotation linsk", StringComparison.Ordinal));
        Finding gone = Assert.Single(Check().Findings, f => f.Rule == "map.absent");
        Assert.Equal(Severity.Stop, gone.Severity);
        Assert.Contains("Is it the column called 'Innenrotation linsk (°)'?", gone.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Case_and_blanks_of_a_header_do_not_matter()
    {
        Edit(lines => lines[0] = lines[0].Replace("Innenrotation links", "  innenrotation   LINKS", StringComparison.Ordinal));
        Assert.Equal(79, Check()["knee_exams"].Rows);
    }

    [Theory]
    [InlineData("column: height_cm, from: Height, unit: m", "column: height_cm, from: Height, unit: kg", "cannot be converted")]
    [InlineData("column: height_cm", "column: heigth_cm", "has no column 'heigth_cm'")]
    [InlineData("table: knee_exams", "table: knees", "There is no table 'knees'")]
    [InlineData("site: south", "site: west", "Call the file west.yaml")]
    [InlineData("from: girl, to: F", "from: girl, to: W", "'W' is no code of 'sex'")]
    [InlineData("- { column: participant_id, from: Code }\n    rows:", "- { column: participant_id, from: Code, always: X }\n    rows:", "either 'from' or 'always'")]
    [InlineData("column: side, always: R", "column: hip_external_rotation_deg, always: 3", "mapped twice")]
    public void A_mapping_that_cannot_be_meant_is_a_fault_at_its_line(string from, string to, string says)
    {
        string path = Path.Combine(folder, "mappings", "south.yaml");
        File.WriteAllText(path, File.ReadAllText(path).Replace(from, to, StringComparison.Ordinal));
        ProtocolError error = Assert.Throws<ProtocolError>(() => ProtocolReader.Read(folder));
        ProtocolFault fault = Assert.Single(error.Faults, f => f.ToString().Contains(says, StringComparison.Ordinal));
        Assert.Equal("mappings/south.yaml", fault.Place.File);
    }

    [Theory]
    [InlineData("1.5", "m", "cm", "150")]
    [InlineData("70", "inches", "cm", "177.8")]
    [InlineData("150", "pounds", "kg", "68.0388555")]
    [InlineData("3.14159265358979", "radians", "degrees", "180")]
    [InlineData("186", "months", "years", "15.5")]
    [InlineData("-0.1", "radians", "degrees", "-5.7295779513")]
    public void Units_convert_by_their_definitions(string value, string from, string to, string expected)
        => Assert.Equal(expected, UnitConversion.Convert(value, from, to));

    [Theory]
    [InlineData("about 3")]
    [InlineData("1,5")]
    [InlineData("1e40")]
    public void What_is_no_plain_number_is_left_for_the_checks(string value) => Assert.Null(UnitConversion.Convert(value, "m", "cm"));

    private void Edit(Action<string[]> change)
    {
        string[] lines = File.ReadAllLines(Hips, System.Text.Encoding.Latin1);
        change(lines);
        File.WriteAllLines(Hips, lines, System.Text.Encoding.Latin1);
    }

    private CheckedRecords Check()
    {
        StudyProtocol protocol = ProtocolReader.Read(folder);
        return RecordChecker.Check(protocol, ExportReader.Read(Path.Combine(folder, "example-exports"), protocol));
    }
}
