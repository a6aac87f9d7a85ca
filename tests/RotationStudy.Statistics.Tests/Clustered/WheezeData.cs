namespace RotationStudy.Statistics.Tests.Clustered;

/// <summary>The Ohio children (Zeger, Liang &amp; Albert 1988), one row per child and year, from the counts of the 32 patterns.</summary>
internal static class WheezeData
{
    internal static (DesignMatrix X, double[] Y, Clusters Children) Read(bool interaction)
    {
        ReferenceCase data = ReferenceCase.Read("Clustered/ohio_wheeze");
        double[] smoke = data.Column("smoke");
        double[] count = data.Column("count");
        double[][] wheeze = [data.Column("y7"), data.Column("y8"), data.Column("y9"), data.Column("y10")];
        List<double> age = [];
        List<double> exposed = [];
        List<double> y = [];
        List<int> child = [];
        int children = 0;
        for (int pattern = 0; pattern < smoke.Length; pattern++)
        {
            for (int c = 0; c < count[pattern]; c++, children++)
            {
                for (int t = 0; t < 4; t++)
                {
                    age.Add(t - 2);
                    exposed.Add(smoke[pattern]);
                    y.Add(wheeze[t][pattern]);
                    child.Add(children);
                }
            }
        }
        DesignMatrix x = DesignMatrix.WithIntercept(("age", age), ("smoke", exposed), ("age:smoke", [.. age.Zip(exposed, (a, s) => a * s)]));
        return (interaction ? x : x.SelectColumns([0, 1, 2]), [.. y], Clusters.From(child));
    }
}
