using System.Globalization;
using RotationStudy.Statistics.Regression;

namespace RotationStudy.Statistics.Tests.Regression;

/// <summary>NIST StRD certified values; agreement is counted in digits: LRE = -log10 of the relative error.</summary>
public class LinearRegressionCertifiedTests
{
    private static readonly ReferenceCase Reference = ReferenceCase.Read("Linear/nist_strd_linear");

    [Fact]
    public void Longley_holds_eleven_certified_digits()
    {
        Dictionary<string, double[]> d = Read("nist_longley.csv");
        LinearRegressionResult fit = LinearRegression.Fit(
            DesignMatrix.WithIntercept(("x1", d["x1"]), ("x2", d["x2"]), ("x3", d["x3"]), ("x4", d["x4"]), ("x5", d["x5"]), ("x6", d["x6"])), d["y"]);
        Certified("longley", fit, coefficientDigits: 11, errorDigits: 11);
    }

    [Fact]
    public void Norris_holds_twelve_certified_digits()
    {
        Dictionary<string, double[]> d = Read("nist_norris.csv");
        Certified("norris", LinearRegression.Fit(DesignMatrix.WithIntercept(("x", d["x"])), d["y"]), coefficientDigits: 12, errorDigits: 12);
    }

    [Theory]
    [InlineData("wampler1")]
    [InlineData("wampler2")]
    [InlineData("wampler3")]
    public void Wampler_polynomials_hold_nine_certified_digits(string outcome)
    {
        Dictionary<string, double[]> d = Read("nist_wampler.csv");
        double[] x = d["x"];
        LinearRegressionResult fit = LinearRegression.Fit(
            DesignMatrix.WithIntercept([.. Enumerable.Range(1, 5).Select(k => ($"x{k}", (IReadOnlyList<double>)[.. x.Select(v => Math.Pow(v, k))]))]), d[outcome]);
        if (outcome == "wampler3")
        {
            Certified("wampler3", fit, coefficientDigits: 9, errorDigits: 12);
            return;
        }
        for (int k = 0; k < 6; k++)
            Digits(Reference.Number($"cases/{outcome}/exact_coef/{k}"), fit.ModelBased.Values[k], 9, $"{outcome} coefficient {k}");
        Assert.True(fit.Sigma < 1e-8, "an exact polynomial leaves no residual");
    }

    private static void Certified(string id, LinearRegressionResult fit, double coefficientDigits, double errorDigits)
    {
        for (int k = 0; k < fit.ModelBased.Values.Count; k++)
        {
            Digits(Reference.Number($"published/{id}/coef/{k}"), fit.ModelBased.Values[k], coefficientDigits, $"{id} coefficient {k}");
            Digits(Reference.Number($"published/{id}/se/{k}"), fit.ModelBased.StandardError(k), errorDigits, $"{id} standard error {k}");
        }
        Digits(Reference.Number($"published/{id}/rsd"), fit.Sigma, errorDigits, $"{id} residual standard deviation");
        Digits(Reference.Number($"published/{id}/r2"), fit.RSquared, errorDigits, $"{id} R squared");
    }

    private static void Digits(double certified, double found, double digits, string what)
        => Close.Relative(certified, found, Math.Pow(10, -digits), what);

    private static Dictionary<string, double[]> Read(string file)
    {
        string[][] lines = [.. File.ReadAllLines(RepositoryFiles.ReferenceData("Linear/nist_strd_linear/" + file)).Where(l => l.Length > 0).Select(l => l.Split(','))];
        return lines[0].Select((name, j) => (name, lines[1..].Select(l => double.Parse(l[j], NumberStyles.Float, CultureInfo.InvariantCulture)).ToArray()))
            .ToDictionary(e => e.name, e => e.Item2);
    }
}
