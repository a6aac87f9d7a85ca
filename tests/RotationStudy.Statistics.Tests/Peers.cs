using System.Text.Json;
using RotationStudy.Benchmarks;

namespace RotationStudy.Statistics.Tests;

/// <summary>The cohort of 300 persons and what other libraries found in it with tightened convergence, read once.</summary>
internal static class Peers
{
    private static readonly Lazy<PeerCohort> LazyCohort = new(() => PeerCohort.Read(RepositoryFiles.ReferenceData("Peers/cohort_300")));
    private static readonly Lazy<JsonElement> LazyFits = new(() =>
    {
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(RepositoryFiles.ReferenceData("Peers/tight_300.json")));
        return document.RootElement.GetProperty("fits").Clone();
    });

    internal static PeerCohort Cohort => LazyCohort.Value;

    /// <summary>The estimates of one fit, such as "logit_cluster".</summary>
    internal static JsonElement Estimates(string fit) => LazyFits.Value.GetProperty(fit).GetProperty("est");

    /// <summary>The members of an object of numbers, in the order of the file.</summary>
    internal static double[] Numbers(JsonElement values) => [.. values.EnumerateObject().Select(v => v.Value.GetDouble())];

    /// <summary>Compares coefficients and standard errors with two objects of numbers in the same order.</summary>
    internal static void AssertEqual(JsonElement values, JsonElement standardErrors, Coefficients found, double tolerance)
    {
        double[] expected = Numbers(values);
        double[] errors = Numbers(standardErrors);
        Assert.Equal(expected.Length, found.Values.Count);
        for (int j = 0; j < expected.Length; j++)
        {
            Close.Relative(expected[j], found.Values[j], tolerance, found.Terms[j]);
            Close.Relative(errors[j], found.StandardError(j), tolerance, found.Terms[j] + ", standard error");
        }
    }
}
