using System.Globalization;
using System.Text.Json;
using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Tests.Distributions;

public class NoncentralTTests
{
    private static readonly ReferenceCase Case = ReferenceCase.Read("Distributions/noncentral_t");

    [Fact]
    public void Tails_agree_with_mpmath_to_twelve_decimals()
    {
        foreach (JsonElement e in Case.Element("tail").EnumerateArray())
            Assert.InRange(NoncentralT.LowerTail(Number(e, "t"), Number(e, "v"), Number(e, "delta")) - Number(e, "lower"), -1e-12, 1e-12);
    }

    [Fact]
    public void Quantiles_agree_with_mpmath()
    {
        foreach (JsonElement e in Case.Element("quantile").EnumerateArray())
        {
            double n = Number(e, "n");
            double q = NoncentralT.Quantile(Number(e, "p"), n - 1, StandardNormal.UpperQuantile(0.025) * Math.Sqrt(n));
            Close.Relative(Number(e, "factor"), q / Math.Sqrt(n), 1e-10);
        }
    }

    [Fact]
    public void Without_noncentrality_it_is_Students()
        => Close.Relative(StudentT.LowerTail(-1.7, 9), NoncentralT.LowerTail(-1.7, 9, 0), 1e-11);

    private static double Number(JsonElement e, string name) => double.Parse(e.GetProperty(name).GetString()!, NumberStyles.Float, CultureInfo.InvariantCulture);
}
