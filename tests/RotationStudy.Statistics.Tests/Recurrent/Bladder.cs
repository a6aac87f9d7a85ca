using System.Globalization;
using RotationStudy.Statistics.Recurrent;

namespace RotationStudy.Statistics.Tests.Recurrent;

/// <summary>Recurrences of bladder tumours (Wei, Lin and Weissfeld 1989): 85 persons, four recurrences at most.</summary>
internal static class Bladder
{
    static Bladder()
    {
        string[] lines = File.ReadAllLines(RepositoryFiles.ReferenceData("Recurrent/bladder/bladder2_countingprocess.csv"));
        string[] header = [.. lines[0].Split(',').Select(h => h.Trim('"'))];
        int At(string name) => Array.IndexOf(header, name);
        double[][] rows = [.. lines[1..].Where(l => l.Length > 0).Select(l => l.Split(',').Select(c => double.Parse(c, CultureInfo.InvariantCulture)).ToArray())];
        IGrouping<double, double[]>[] persons = [.. rows.GroupBy(r => r[At("id")])];
        Events = new RecurrentEvents([.. persons.Select(p => new UnitHistory(
            0,
            p.Max(r => r[At("stop")]),
            [.. p.Where(r => r[At("event")] == 1).Select(r => r[At("stop")])]))]);
        double[] First(string name) => [.. persons.Select(p => p.First()[At(name)])];
        X = DesignMatrix.FromColumns(("rx", First("rx")), ("size", First("size")), ("number", First("number")));
        Treatment = [.. First("rx").Select(v => v == 1 ? "placebo" : "thiotepa")];
    }

    internal static ReferenceCase Case { get; } = ReferenceCase.Read("Recurrent/bladder");

    /// <summary>What the reference library prints.</summary>
    internal static Statistics.Survival.CoxOptions Sandwich { get; } = new() { ClusterVariance = Statistics.Survival.CoxClusterVariance.Sandwich };

    internal static RecurrentEvents Events { get; }

    internal static DesignMatrix X { get; }

    internal static string[] Treatment { get; }

    internal static void Agrees(string id, Statistics.Survival.CoxFit fit)
    {
        string path = $"cases/{id}/";
        Assert.Equal(Case.Number(path + "n"), fit.Rows);
        Assert.Equal(Case.Number(path + "nevent"), fit.Events);
        foreach (string term in fit.Coefficients.Terms)
        {
            Close.Relative(Case.Number(path + "coef/" + term), fit.Coefficients.Values[fit.Coefficients.IndexOf(term)], 1e-8, term);
            Close.Relative(Case.Number(path + "se_robust/" + term), fit.Coefficients.StandardError(fit.Coefficients.IndexOf(term)), 1e-8, term);
        }
        Close.Relative(Case.Number(path + "loglik_null_model/1"), fit.LogLikelihood, 1e-12);
    }
}
