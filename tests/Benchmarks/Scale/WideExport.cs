using System.Globalization;
using System.Text;

namespace RotationStudy.Benchmarks.Scale;

/// <summary>Writes a made-up export of one wide table of visits, and the protocol that declares it.</summary>
/// <remarks>
/// Thirty columns as studies have them: identifier, visit and day, eight codes, nine whole degrees, five scores to one decimal, four
/// measurements to two decimals, one of six digits that hardly repeats. Some cells are empty or NA, some out of range, so that the
/// checks have something to say.
/// </remarks>
internal static class WideExport
{
    private const int VisitsPerPerson = 10;
    private const int Codes = 8;
    private const int Degrees = 9;
    private const int Scores = 5;
    private const int Lengths = 4;

    /// <summary>Writes both folders below a folder, unless they are there.</summary>
    /// <returns>Folder of the protocol and folder of the export.</returns>
    internal static (string Protocol, string Export) Write(string folder, int rows)
    {
        (string protocol, string export) = (Path.Combine(folder, "protocol"), Path.Combine(folder, $"export-{rows}"));
        Directory.CreateDirectory(protocol);
        foreach ((string name, string text) in ProtocolFiles())
            File.WriteAllText(Path.Combine(protocol, name), text);
        if (Directory.Exists(export))
            return (protocol, export);
        string unfinished = export + ".unfinished";
        Directory.CreateDirectory(unfinished);
        WriteRoster(Path.Combine(unfinished, "participants.csv"), rows / VisitsPerPerson);
        WriteVisits(Path.Combine(unfinished, "visits.csv"), rows);
        Directory.Move(unfinished, export);
        return (protocol, export);
    }

    private static void WriteRoster(string path, int persons)
    {
        using StreamWriter file = new(path, append: false, new UTF8Encoding(false), 1 << 16);
        file.Write("participant_id,site,sex\n");
        for (int person = 0; person < persons; person++)
            file.Write(string.Create(CultureInfo.InvariantCulture, $"P-{person:000000},{"ABC"[person % 3]},{"FM"[person % 2]}\n"));
    }

    private static void WriteVisits(string path, int rows)
    {
        using StreamWriter file = new(path, append: false, new UTF8Encoding(false), 1 << 16);
        file.Write(string.Join(',', Columns().Select(c => c.Name)));
        file.Write('\n');
        ulong state = 20261125;
        StringBuilder line = new();
        for (int row = 0; row < rows; row++)
        {
            int visit = row % VisitsPerPerson;
            line.Clear().Append(CultureInfo.InvariantCulture, $"P-{row / VisitsPerPerson:000000},v{visit},{(visit * 90) + (int)(Next(ref state) % 20)}");
            for (int i = 0; i < Codes; i++)
                line.Append(',').Append((char)('a' + (int)(Next(ref state) % 4)));
            for (int i = 0; i < Degrees; i++)
                line.Append(',').Append(Cell(ref state, 0, 121));
            for (int i = 0; i < Scores; i++)
                line.Append(',').Append(Cell(ref state, 1, 1000));
            for (int i = 0; i < Lengths; i++)
                line.Append(',').Append(Cell(ref state, 2, 12000));
            line.Append(CultureInfo.InvariantCulture, $",{(double)(Next(ref state) % 100_000_000) / 1000:0.000}\n");
            file.Write(line);
        }
    }

    // One cell in fifty is empty, one in a hundred not done, one in ten thousand cannot be true.
    private static string Cell(ref ulong state, int decimals, int values)
    {
        uint chance = Next(ref state) % 10_000;
        return chance switch
        {
            0 => "999999",
            < 200 => string.Empty,
            < 300 => "NA",
            _ => ((double)(Next(ref state) % (uint)values) / Math.Pow(10, decimals)).ToString(decimals == 0 ? "0" : decimals == 1 ? "0.0" : "0.00", CultureInfo.InvariantCulture),
        };
    }

    private static uint Next(ref ulong state)
    {
        state = (state * 6364136223846793005) + 1442695040888963407;
        return (uint)(state >> 33);
    }

    private static IEnumerable<(string Name, string Form)> Columns()
    {
        yield return ("participant_id", "type: identifier, role: participant, required: true");
        yield return ("visit", "type: code, role: visit, required: true");
        yield return ("visit_day", "type: whole_number, role: day, unit: days, required: true, possible: { lowest: 0, highest: 4000 }, source: 'Common practice, no source.'");
        for (int i = 0; i < Codes; i++)
            yield return ($"code_{i}", "type: code, codes: [{ code: a, meaning: first }, { code: b, meaning: second }, { code: c, meaning: third }, { code: d, meaning: fourth }]");
        for (int i = 0; i < Degrees; i++)
            yield return ($"angle_{i}", Number("degrees", 120));
        for (int i = 0; i < Scores; i++)
            yield return ($"score_{i}", Number("points", 100));
        for (int i = 0; i < Lengths; i++)
            yield return ($"length_{i}", Number("mm", 120));
        yield return ("sensor", Number("mm", 100000));
    }

    private static string Number(string unit, int highest)
        => $"type: number, unit: {unit}, possible: {{ lowest: 0, highest: {highest} }}, missing_codes: [{{ code: NA, meaning: not done }}], source: 'Common practice, no source.'";

    private static IEnumerable<(string Name, string Text)> ProtocolFiles()
    {
        string visits = string.Join('\n', Enumerable.Range(0, VisitsPerPerson).Select(v
            => $"  - {{ id: v{v}, label: Visit {v}, day: {v * 90}, earliest: {Math.Max(0, (v * 90) - 10)}, latest: {(v * 90) + 30} }}"));
        yield return ("study.yaml", $$"""
            id: wide-visits
            title: A wide table of visits
            purpose: To measure the reading and checking of a large export.
            design: Invented rows.
            source: Invented.
            version: "1.0"
            participant_words: { one: participant, many: participants }
            unit_words: { one: knee, many: knees }
            eligibility: [Invented participants.]
            sites: [{ id: A, label: A }, { id: B, label: B }, { id: C, label: C }]
            visits:
            {{visits}}
            seed: 1
            smallest_printed_count: 5
            cautions: [Invented data.]
            """);
        string columns = string.Join('\n', Columns().Select(c => $"      - {{ name: {c.Name}, label: {c.Name.Replace('_', ' ')}, {c.Form} }}"));
        yield return ("tables.yaml", $$"""
            tables:
              - name: participants
                label: Participants
                file: participants.csv
                required: true
                is_roster: true
                key: [participant_id]
                columns:
                  - { name: participant_id, label: Participant, type: identifier, role: participant, required: true }
                  - { name: site, label: Site, type: code, role: site, required: true }
                  - { name: sex, label: Sex, type: code, codes: [{ code: F, meaning: female }, { code: M, meaning: male }] }
              - name: visits
                label: Visits
                file: visits.csv
                required: true
                key: [participant_id, visit]
                columns:
            {{columns}}
            """);
        yield return ("measures.yaml", "measures:\n  - { id: sex, label: Sex, kind: value, table: participants, column: sex }\n");
        yield return ("plan.yaml", "dated: 2026-01-15\nquestions:\n  - { id: Q1, title: Participants, asks: Who takes part?, kind: baseline, rows: participant, characteristics: [sex] }\n");
        yield return ("figures.yaml", "figures:\n  - { id: flow, kind: participant_flow, title: Flow }\n");
    }
}
