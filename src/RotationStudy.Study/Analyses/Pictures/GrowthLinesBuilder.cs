using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Pictures;

/// <summary>Single lines, the model's mean lines by the first coded exposure, and a norm, for a question of kind trajectory.</summary>
internal static class GrowthLinesBuilder
{
    private const int GridPoints = 41;

    /// <summary>The lines; null where no exposure is a number, so that there is no axis.</summary>
    internal static GrowthLines? Build(AnalysisInput input, Coefficients fit)
    {
        ExposureTerm? across = input.Question.Exposures.FirstOrDefault(e => e.Measure == input.Question.RandomSlope)
            ?? input.Question.Exposures.FirstOrDefault(e => !input.Measures[e.Measure].IsCoded);
        if (across is null || input.Measures[across.Measure].IsCoded)
            return null;
        ExposureTerm? split = input.Question.Exposures.FirstOrDefault(e => input.Measures[e.Measure].IsCoded);
        RowGroups groups = RowGroups.In(input.Table, split is null ? null : input.Measures[split.Measure]);
        MeasureDefinition x = input.Measures[across.Measure].Definition, y = input.Measures[input.Question.Outcome!].Definition;
        return new GrowthLines(
            Labels.WithUnit(x), Labels.WithUnit(y), Singles(input, across, groups),
            [.. groups.Names.Select((name, g) => Mean(input, fit, across, split, name, groups, g))],
            Norm(input.Protocol, y, x),
            $"Mean lines of the mixed model, other terms at their means, with pointwise 95% bands ({fit.VarianceMethod}).");
    }

    private static ImmutableArray<SingleLine> Singles(AnalysisInput input, ExposureTerm across, RowGroups groups)
    {
        ImmutableArray<double> x = input.Values(across.Measure), y = input.Values(input.Question.Outcome);
        return
        [
            .. Enumerable.Range(0, input.Table.Rows).GroupBy(r => (input.Table.Keys[r].Participant, input.Table.Keys[r].Side)).Select(unit =>
            {
                int[] rows = [.. unit.OrderBy(r => x[r])];
                return new SingleLine(groups.Of[rows[0]], [.. rows.Select(r => x[r])], [.. rows.Select(r => y[r])]);
            }),
        ];
    }

    private static MeanLine Mean(AnalysisInput input, Coefficients fit, ExposureTerm across, ExposureTerm? split, string name, RowGroups groups, int group)
    {
        double[] own = [.. Enumerable.Range(0, input.Table.Rows).Where(r => groups.Of[r] == group).Select(r => input.Values(across.Measure)[r])];
        double low = own.Min(), high = own.Max();
        double[] grid = [.. Enumerable.Range(0, GridPoints).Select(i => low + ((high - low) * i / (GridPoints - 1)))];
        int member = groups.Of.IndexOf(group);
        Estimate[] mean = [.. grid.Select(v => fit.Combination("mean", Weights(input, across, split, member, v)))];
        return new MeanLine(
            split is null ? string.Empty : name, [.. grid], [.. mean.Select(m => m.Value)],
            [.. mean.Select(m => m.Interval.Lower)], [.. mean.Select(m => m.Interval.Upper)]);
    }

    /// <summary>Weights of the coefficients at a value of the axis: the group's own codes, the mean of everything else.</summary>
    private static double[] Weights(AnalysisInput input, ExposureTerm across, ExposureTerm? split, int member, double value)
    {
        Dictionary<string, double> at = new(StringComparer.Ordinal);
        foreach (ModelTerm term in input.Terms.Terms.Where(t => t.Role != "interaction"))
        {
            at[term.Name] = term.Measure == across.Measure ? (value - across.Center) / across.Per
                : term.Measure == split?.Measure ? term.Values[member]
                : term.Values.Average();
        }
        foreach (ModelTerm product in input.Terms.Terms.Where(t => t.Role == "interaction"))
        {
            string[] factors = product.Name.Split(" x ");
            at[product.Name] = at[factors[0]] * at[factors[1]];
        }
        return [1, .. input.Terms.Terms.Select(t => at[t.Name])];
    }

    /// <summary>The norm that a measure of the protocol reads the outcome against, rows of both sexes or the first sex named, when the axis is an age in years.</summary>
    private static NormBand? Norm(StudyProtocol protocol, MeasureDefinition outcome, MeasureDefinition axis)
    {
        NormMeasure? reading = protocol.Measures.OfType<NormMeasure>().FirstOrDefault(m => m.Of == outcome.Id);
        if (reading is null || axis.Unit != "years")
            return null;
        Norm norm = protocol.Norm(reading.Norm);
        string? sex = norm.Rows.All(r => r.Sex is not null) ? norm.Rows[0].Sex : null;
        NormRow[] rows = [.. norm.Rows.Where(r => r.Sex == sex).OrderBy(r => r.AgeFrom)];
        string range = rows.All(r => r.HasDeviation) ? "mean and two standard deviations" : "mean and range seen";
        return new NormBand(
            $"{norm.Label}{(sex is null ? string.Empty : $" ({sex})")}: {range}", norm.Source,
            [.. rows.Select(r => new NormStep(r.AgeFrom, r.AgeTo, r.Mean, r.Lowest, r.Highest))]);
    }
}
