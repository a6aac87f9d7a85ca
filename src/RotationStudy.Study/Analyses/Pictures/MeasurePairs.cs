using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Regression;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Analyses.Pictures;

/// <summary>Two measures against each other: points by person, side and group; a straight line per group where the figure is split.</summary>
internal static class MeasurePairs
{
    private const int GridPoints = 21;

    internal static MeasurePair Build(FigureDefinition figure, DerivedMeasures measures)
    {
        MeasureColumn x = measures[figure.Measures[0]], y = measures[figure.Measures[1]];
        MeasureColumn? marks = figure.Marks is { } id ? measures[id] : null;
        RowLevel level = x.Index.Level.HasSides() || y.Index.Level.HasSides() ? RowLevel.Unit : RowLevel.Participant;
        AnalysisTable table = TableBuilder.Build(measures, level, [x.Definition.Id, y.Definition.Id], null);
        RowGroups groups = RowGroups.In(table, figure.By is { } by ? measures[by] : null);
        ImmutableArray<double> xs = table[x.Definition.Id].Values, ys = table[y.Definition.Id].Values;
        int[] rows = [.. Enumerable.Range(0, table.Rows).Where(r => groups.Of[r] >= 0)];
        int[] people = [.. rows.Select(r => table.Participants[r]).Distinct()];
        bool lines = figure.Kind == FigureKind.ScatterPanels;
        return new MeasurePair(
            figure.Id, Labels.WithUnit(x.Definition), Labels.WithUnit(y.Definition), marks?.Definition.Label,
            figure.By is null ? null : measures[figure.By].Definition.Label, groups.Names,
            [.. rows.Select(r => new PairPoint(
                Array.IndexOf(people, table.Participants[r]), level.HasSides() ? table.Keys[r].Side : -1, groups.Of[r], xs[r], ys[r],
                marks is not null && marks.Index.Find(table.Keys[r]) is >= 0 and int at && marks.HasValue(at) && marks.Values[at] > 0))],
            lines ? [.. groups.Names.Select((_, g) => Line(table, [.. rows.Where(r => groups.Of[r] == g)], xs, ys))] : [],
            table.Population - rows.Length,
            lines ? "Straight lines by least squares within each panel, bands clustered by person (CR2); not adjusted for anything" : string.Empty);
    }

    private static PairLine Line(AnalysisTable table, int[] rows, ImmutableArray<double> x, ImmutableArray<double> y)
    {
        double low = rows.Min(r => x[r]), high = rows.Max(r => x[r]);
        double[] grid = [.. Enumerable.Range(0, GridPoints).Select(i => low + ((high - low) * i / (GridPoints - 1)))];
        try
        {
            DesignMatrix design = DesignMatrix.WithIntercept(("x", (IReadOnlyList<double>)[.. rows.Select(r => x[r])]));
            LinearRegressionResult fit = LinearRegression.Fit(design, [.. rows.Select(r => y[r])]);
            Coefficients robust = fit.ClusterRobust(Clusters.From([.. rows.Select(r => table.Participants[r])]));
            IReadOnlyList<LinearPrediction> mean = fit.Predict(DesignMatrix.WithIntercept(("x", (IReadOnlyList<double>)grid)), robust);
            Estimate slope = robust.Estimate("x");
            return new PairLine(
                [.. grid], [.. mean.Select(m => m.Mean.Value)], [.. mean.Select(m => m.Mean.Interval.Lower)], [.. mean.Select(m => m.Mean.Interval.Upper)],
                new NumberWithInterval(slope.Value, slope.Interval.Lower, slope.Interval.Upper));
        }
        catch (StatisticsError)
        {
            return new PairLine([], [], [], [], null);
        }
    }
}
