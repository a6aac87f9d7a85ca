using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Survival;

/// <summary>The synthetic reference case with two causes, clusters and delayed entry; and the melanoma data.</summary>
internal static class CompetingDelayed
{
    internal static ReferenceCase Case { get; } = ReferenceCase.Read("Survival/competing_delayed");

    internal static ReferenceCase Melanoma { get; } = ReferenceCase.Read("Survival/melanoma");

    internal static int[] Causes { get; } = [.. Case.Column("cause").Select(c => (int)c)];

    internal static CompetingTimes Delayed { get; } = CompetingTimes.CountingProcess(Case.Column("entry"), Case.Column("exit"), Causes);

    internal static CompetingTimes FromZero { get; } = CompetingTimes.RightCensored(Case.Column("exit"), Causes);

    internal static Clusters Clusters { get; } = Clusters.From(Case.Text("id"));

    internal static string[] Arm { get; } = Case.Text("arm");

    internal static DesignMatrix X { get; } = DesignMatrix.FromColumns(("x1", Case.Column("x1")), ("x2", Case.Column("x2")));

    /// <summary>Cause 1 death from melanoma, 2 another death.</summary>
    internal static CompetingTimes MelanomaTimes { get; } = CompetingTimes.RightCensored(
        Melanoma.Column("time"),
        [.. Melanoma.Column("status").Select(s => s == 1 ? 1 : s == 3 ? 2 : 0)]);
}
