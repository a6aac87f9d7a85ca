using System.Collections.Immutable;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>Curves as they were recorded, on one grid: the points of the arc at which any trial of the study has a value.</summary>
/// <param name="Label">Label of the values.</param>
/// <param name="Unit">Their unit.</param>
/// <param name="ArcLabel">Label of the arc.</param>
/// <param name="ArcUnit">Its unit.</param>
/// <param name="Grid">Points of the arc, increasing.</param>
/// <param name="Trials">The curves, by participant, side and trial; a trial without any value is left out.</param>
public sealed record CurveReadings(
    string Label, string? Unit, string ArcLabel, string? ArcUnit, ImmutableArray<double> Grid, ImmutableArray<CurveTrial> Trials)
{
    internal static CurveReadings Read(CurveColumn source, Derivation derivation)
    {
        RecordTable table = derivation.Records[source.Table];
        NumberColumn value = (NumberColumn)table[source.Column];
        NumberColumn over = (NumberColumn)table[source.Over];
        RecordColumn? trial = source.Trial is null ? null : table[source.Trial];
        ImmutableArray<RowKey> keys = derivation.Index.KeysOfRows(table);
        int[] rows = [.. Enumerable.Range(0, table.Rows).Where(r => value.HasValue(r) && over.HasValue(r) && keys[r].Participant >= 0)];
        ImmutableArray<double> grid = [.. rows.Select(r => over.Values[r]).Distinct().Order()];
        Dictionary<double, int> at = grid.Select((g, i) => (g, i)).ToDictionary(p => p.g, p => p.i);
        SortedDictionary<(int Participant, int Side, double Trial), double?[]> curves = [];
        foreach (int row in rows)
        {
            (int, int, double) key = (keys[row].Participant, keys[row].Side, Number(trial, row));
            if (!curves.TryGetValue(key, out double?[]? curve))
                curves.Add(key, curve = new double?[grid.Length]);
            curve[at[over.Values[row]]] = value.Values[row];
        }
        return new CurveReadings(
            value.Definition.Label, value.Definition.Unit, over.Definition.Label, over.Definition.Unit, grid,
            [.. curves.Select(c => new CurveTrial(c.Key.Participant, c.Key.Side, [.. c.Value]))]);
    }

    /// <summary>The mean curve of each side: at each point the mean of the trials that have a value there.</summary>
    internal Dictionary<(int Participant, int Side), ImmutableArray<double?>> MeanCurves()
        => Trials.GroupBy(t => (t.Participant, t.Side)).ToDictionary(
            unit => unit.Key,
            unit => ImmutableArray.CreateRange(Enumerable.Range(0, Grid.Length).Select(j => unit.Average(t => t.Values[j]))));

    private static double Number(RecordColumn? column, int row) => column switch
    {
        NumberColumn number => number.Values[row],
        CodeColumn code => code.Indices[row],
        _ => 0,
    };
}

/// <summary>One trial.</summary>
/// <param name="Participant">Position in the list of participants.</param>
/// <param name="Side">Position in the list of sides; -1 for none.</param>
/// <param name="Values">A value per point of the grid; null for a gap.</param>
public sealed record CurveTrial(int Participant, int Side, ImmutableArray<double?> Values);
