using System.Globalization;
using RotationStudy.Statistics.Distributions;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Declared;

/// <summary>Rows far from the rest of their age band by a robust distance.</summary>
/// <remarks>
/// The square of the distance is judged by the upper tail of a chi-square with as many degrees of freedom as columns. A band
/// with too few complete rows, or whose values hardly differ, is not judged.
/// </remarks>
internal static class Outlier
{
    internal static void Apply(OutlierCheck check, TableDraft table, CheckedRows rows, RowReport report)
    {
        DraftColumn[] columns = [.. check.Columns.Select(table.Named)];
        int[] bandOfRow = Bands(check, table, rows);
        double cut = ChiSquared.UpperQuantile(check.BelowP, columns.Length);
        for (int band = 0; band <= check.AgeCutPoints.Length; band++)
        {
            List<int> members = [];
            foreach (int row in table.Order)
            {
                if (bandOfRow[row] == band && Array.TrueForAll(columns, c => c[row].HasValue))
                    members.Add(row);
            }
            if (members.Count < check.AtLeast)
                continue;
            double[] values = new double[members.Count * columns.Length];
            for (int i = 0; i < members.Count; i++)
            {
                for (int j = 0; j < columns.Length; j++)
                    values[(i * columns.Length) + j] = columns[j][members[i]].Number;
            }
            if (RobustDistance.Squares(values, columns.Length) is { } squares)
                Report(columns, members, squares, cut, report);
        }
    }

    private static void Report(DraftColumn[] columns, List<int> members, double[] squares, double cut, RowReport report)
    {
        for (int i = 0; i < squares.Length; i++)
        {
            if (squares[i] <= cut)
                continue;
            string values = string.Join(", ", columns.Select(c => $"{c.Definition.Name} {c.Shown(members[i])}"));
            report.Add(
                members[i], columns.Length == 1 ? columns[0] : null,
                string.Create(CultureInfo.InvariantCulture, $"a distance of at most {Math.Sqrt(cut):F1}"),
                string.Create(CultureInfo.InvariantCulture, $"{values}: {Math.Sqrt(squares[i]):F1} robust standard distances from the middle of {squares.Length} rows of the age band."));
        }
    }

    /// <summary>Age band of each row, closed below; -1 where the age is not known.</summary>
    private static int[] Bands(OutlierCheck check, TableDraft table, CheckedRows rows)
    {
        int[] bands = new int[table.Rows];
        if (check.AgeColumn is not { } name)
            return bands;
        Array.Fill(bands, -1);
        if (rows.Roster is not { } roster)
            return bands;
        DraftColumn age = roster.Named(name);
        DraftColumn rosterWho = roster.Column(ColumnRole.Participant)!;
        int[] number = rows.ParticipantOfText(roster);
        Dictionary<int, int> bandOf = new(roster.Order.Length);
        foreach (int row in roster.Order)
        {
            if (age[row].HasValue)
                bandOf.TryAdd(number[rosterWho.TextOf(row)], check.AgeCutPoints.Count(cut => age[row].Number >= cut));
        }
        DraftColumn who = table.Column(ColumnRole.Participant)!;
        int[] numberHere = rows.ParticipantOfText(table);
        foreach (int row in table.Order)
            bands[row] = bandOf.GetValueOrDefault(numberHere[who.TextOf(row)], -1);
        return bands;
    }
}
