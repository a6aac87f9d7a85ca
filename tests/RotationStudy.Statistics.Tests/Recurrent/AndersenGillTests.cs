using RotationStudy.Statistics.Recurrent;
using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Recurrent;

public class AndersenGillTests
{
    [Fact]
    public void Bladder_tumours_agree_with_the_reference()
    {
        Bladder.Agrees("andersen_gill_efron", AndersenGill.Fit(Bladder.Events, Bladder.X, options: Bladder.Sandwich));
        Bladder.Agrees("andersen_gill_breslow", AndersenGill.Fit(Bladder.Events, Bladder.X, options: Bladder.Sandwich with { Ties = TiesMethod.Breslow }));
        // Therneau and Grambsch 2000, ch. 8, recalled, not re-read.
        Close.Printed(-0.465, AndersenGill.Fit(Bladder.Events, Bladder.X).Coefficients.Values[0], 3);
    }

    [Fact]
    public void Units_within_clusters_widen_to_the_clusters()
    {
        int[] pairs = [.. Enumerable.Range(0, Bladder.Events.Units).Select(i => i / 2)];
        CoxFit units = AndersenGill.Fit(Bladder.Events, Bladder.X);
        CoxFit clusters = AndersenGill.Fit(Bladder.Events, Bladder.X, Clusters.From(pairs));
        Assert.Equal(units.Coefficients.Values, clusters.Coefficients.Values);
        Assert.NotEqual(units.Coefficients.StandardError(0), clusters.Coefficients.StandardError(0));
        Assert.Equal((85, 43), (units.Clusters, clusters.Clusters));
    }

    [Fact]
    public void Covariates_of_another_number_of_units_are_refused()
        => Assert.Throws<InvalidInputError>(() => AndersenGill.Fit(Bladder.Events, Bladder.X.SelectRows([0, 1])));
}
