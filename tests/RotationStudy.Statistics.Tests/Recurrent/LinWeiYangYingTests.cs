using RotationStudy.Statistics.Recurrent;
using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Recurrent;

public class LinWeiYangYingTests
{
    [Fact]
    public void Bladder_tumours_agree_with_the_reference()
        => Bladder.Agrees("andersen_gill_breslow", LinWeiYangYing.Fit(Bladder.Events, Bladder.X, options: Bladder.Sandwich));

    [Fact]
    public void Without_an_effect_the_mean_is_the_mean_cumulative_function()
    {
        // Each person twice, once with x = 0 and once with x = 1, in one cluster: the coefficient is zero by construction.
        int n = Bladder.Events.Units;
        int[] twice = [.. Enumerable.Range(0, 2 * n).Select(i => i % n)];
        DesignMatrix x = DesignMatrix.FromColumns(("x", [.. twice.Select((_, i) => i < n ? 0.0 : 1.0)]));
        CoxFit fit = LinWeiYangYing.Fit(Bladder.Events.SelectUnits(twice), x, Clusters.From(twice));
        MeanCumulativeCurve curve = MeanCumulativeFunction.Estimate(Bladder.Events);
        IReadOnlyList<MeanStep> means = LinWeiYangYing.MeanEvents(fit, [0.5]);
        for (int i = 0; i < means.Count; i++)
        {
            Close.Relative(curve.Steps[i].Mean, means[i].Mean, 1e-10);
            Close.Relative(curve.Steps[i].StandardError, means[i].StandardError, 1e-8);
        }
    }
}
