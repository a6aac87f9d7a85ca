using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

public class GeneralizedLinearInfluenceTests
{
    [Fact]
    public void One_step_comes_close_to_leaving_a_person_out()
    {
        DesignMatrix x = LogisticRegressionTests.Knees("av", "lax", "age");
        double[] any = Peers.Cohort.Knees["any"];
        Clusters persons = Clusters.From(Peers.Cohort.Knees.Person);
        GeneralizedLinearFit fit = LogisticRegression.Fit(x, any, persons);
        Influence influence = GeneralizedLinearInfluence.ByCluster(fit, persons);
        foreach (int person in influence.MostInfluential("lax", 5))
        {
            int[] rest = [.. Enumerable.Range(0, x.Rows).Where(i => persons.ClusterOfRow[i] != person)];
            GeneralizedLinearFit without = LogisticRegression.Fit(x.SelectRows(rest), [.. rest.Select(i => any[i])]);
            Close.Relative(fit.Coefficients.Values[2] - without.Coefficients.Values[2], influence.Shift(person, 2), 0.05);
        }
    }
}
