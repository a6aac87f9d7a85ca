using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

/// <summary>The synthetic reference case with clusters, delayed entry, ties, strata and weights.</summary>
internal sealed class ClusteredDelayed
{
    internal static ClusteredDelayed Instance { get; } = new();

    private ClusteredDelayed()
    {
        Case = ReferenceCase.Read("Survival/clustered_delayed");
        bool[] events = [.. Case.Column("event").Select(e => e == 1)];
        Delayed = SurvivalTimes.CountingProcess(Case.Column("entry"), Case.Column("exit"), events);
        FromZero = SurvivalTimes.RightCensored(Case.Column("exit"), events);
        Clusters = Clusters.From(Case.Text("id"));
        Sites = Clusters.From(Case.Text("site"));
        X = DesignMatrix.FromColumns(("x1", Case.Column("x1")), ("x2", Case.Column("x2")));
    }

    internal ReferenceCase Case { get; }

    internal SurvivalTimes Delayed { get; }

    internal SurvivalTimes FromZero { get; }

    internal Clusters Clusters { get; }

    internal Clusters Sites { get; }

    internal DesignMatrix X { get; }

    internal double[] Weights => Case.Column("weight");

    internal string[] Arm => Case.Text("arm");

    internal double[] Numbers(string path)
        => [.. Case.Element(path).EnumerateArray().Select(e => e.ValueKind == System.Text.Json.JsonValueKind.Number ? e.GetDouble() : double.NaN)];
}
