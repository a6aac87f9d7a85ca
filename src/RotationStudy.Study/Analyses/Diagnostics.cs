using System.Globalization;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Mixed;
using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Survival;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Checks that run unasked, each in words a reader can act on.</summary>
internal static class Diagnostics
{
    // Common practice, no source: below ten events per parameter estimates are unsteady; the number is a warning sign, no rule.
    private const int FewEventsPerParameter = 10;
    private const double Suspicious = 0.05;

    // Common practice, no source: half as much again as the model's own variance is worth a word.
    private const double StillOverdispersed = 1.5;

    internal static DiagnosticRow EventsPerParameter(int events, int parameters)
    {
        double ratio = events / (double)Math.Max(1, parameters);
        string number = Sentences.Number(ratio);
        return ratio >= FewEventsPerParameter
            ? new DiagnosticRow(CheckNames.EventsPerParameter, true, $"{events} events for {Terms(parameters)} ({number} each).")
            : new DiagnosticRow(CheckNames.EventsPerParameter, false, $"Only {events} events for {Terms(parameters)} ({number} each): estimates are unsteady and intervals may be too narrow. Read them as exploratory, or plan a smaller adjustment set.");
    }

    /// <summary>For numeric outcomes, whose information lies in persons and not in events.</summary>
    internal static DiagnosticRow PersonsPerParameter(AnalysisInput input)
    {
        int parameters = input.Terms.Terms.Length;
        double ratio = input.Table.ParticipantCount / (double)Math.Max(1, parameters);
        string words = $"{input.Protocol.Study.ParticipantWords.Count(input.Table.ParticipantCount)} for {Terms(parameters)} ({Sentences.Number(ratio)} each)";
        return ratio >= FewEventsPerParameter
            ? new DiagnosticRow(CheckNames.PersonsPerParameter, true, $"{words}.")
            : new DiagnosticRow(CheckNames.PersonsPerParameter, false, $"Only {words}: estimates are unsteady. Read them as exploratory, or plan a smaller adjustment set.");
    }

    private static string Terms(int parameters) => parameters == 1 ? "1 parameter" : $"{parameters} parameters";

    internal static DiagnosticRow Convergence(int iterations)
        => new("Convergence", true, $"The fit met its stop rule after {iterations} {(iterations == 1 ? "step" : "steps")}.");

    internal static IEnumerable<DiagnosticRow> ProportionalHazards(CoxFit fit, AnalysisInput input)
    {
        ProportionalHazardsResult result = ProportionalHazardsTest.Test(fit);
        string p = Sentences.PValue(result.Global.PValue);
        string transform = $"score test against the {(result.Transform == TimeTransform.KaplanMeier ? "Kaplan-Meier" : result.Transform.ToString().ToLowerInvariant())} transform of time; rows taken as independent";
        if (result.Global.PValue >= Suspicious)
        {
            yield return new DiagnosticRow(CheckNames.ProportionalHazards, true, $"No sign that effects change with time (global {p}; {transform}).");
            yield break;
        }
        IEnumerable<string> changing = result.ByColumn.Where(c => c.Test.PValue < Suspicious)
            .Select(c => input.Terms.Terms.First(t => t.Name == c.Term).Label);
        yield return new DiagnosticRow(
            CheckNames.ProportionalHazards, false,
            $"Effects seem to change with time (global {p}; {transform}){(changing.Any() ? ", above all " + Sentences.List(changing) : string.Empty)}. Read the hazard ratio as an average over the follow-up, and look at the curves.");
    }

    internal static DiagnosticRow ExplainedVariance(LinearRegressionResult fit)
        => new("Spread explained", null, string.Create(CultureInfo.InvariantCulture, $"The terms explain {100 * fit.RSquared:0}% of the spread of the outcome; residual SD {Sentences.Number(fit.Sigma)}."));

    internal static DiagnosticRow OddsAreNotRisks(int events, int rows)
    {
        double share = events / (double)rows;
        string percent = string.Create(CultureInfo.InvariantCulture, $"{100 * share:0}%");
        return share > 0.15
            ? new DiagnosticRow("How common the outcome is", null, $"The outcome occurred in {percent} of rows: an odds ratio is then further from 1 than the risk ratio and must not be read as one.")
            : new DiagnosticRow("How common the outcome is", null, $"The outcome occurred in {percent} of rows: odds ratio and risk ratio are close.");
    }

    internal static DiagnosticRow Dispersion(NegativeBinomialFit fit, GeneralizedLinearFit poisson)
    {
        double ratio = poisson.PearsonChiSquared / Math.Max(1, poisson.Rows - poisson.Coefficients.Values.Count);
        string words = $"Pearson chi-square over degrees of freedom {Sentences.Number(ratio)} under Poisson; negative binomial dispersion {Sentences.Number(fit.Alpha)}.";
        double left = fit.Regression.PearsonChiSquared / Math.Max(1, fit.Regression.Rows - fit.Regression.Coefficients.Values.Count);
        if (left > StillOverdispersed)
        {
            return new DiagnosticRow(
                CheckNames.Overdispersion, false, $"{words} Counts vary more than even that model expects ({Sentences.Number(left)} times its variance); the robust variance answers for a part of it.");
        }
        return ratio > 1.2
            ? new DiagnosticRow(CheckNames.Overdispersion, true, words + " Counts vary more than Poisson allows, as the negative binomial model expects.")
            : new DiagnosticRow(CheckNames.Overdispersion, true, words + " Counts vary about as Poisson allows; both models should agree.");
    }

    internal static DiagnosticRow NoSeparation { get; }
        = new(CheckNames.Separation, true, "No combination of terms tells rows with the event from rows without it without exception.");

    internal static IEnumerable<DiagnosticRow> VarianceComponents(LinearMixedModelFit fit, ModelTerms terms)
    {
        foreach (VarianceComponent component in fit.VarianceComponents)
        {
            string words = component.OtherColumn is null
                ? $"Standard deviation {Sentences.Number(component.StandardDeviation)}."
                : $"Correlation {(component.Correlation is { } r ? Sentences.Number(r) : "undefined")}.";
            string column = Column(component.Column);
            string other = Column(component.OtherColumn ?? string.Empty);
            string name = component.Term == VarianceComponent.ResidualName ? "Residual"
                : component.OtherColumn is null ? $"Between {component.Term}s: {column}"
                : $"Between {component.Term}s: {column} with {other}";
            yield return new DiagnosticRow(name, null, words);
        }
        if (fit.BoundaryTerms.Count > 0)
            yield return new DiagnosticRow("Variance on the edge", null, $"The variances between {Sentences.List(fit.BoundaryTerms.Select(t => t + "s"))} lie on the edge of what is possible (a standard deviation of 0 or a correlation of 1): these data tell less than the model asks. Fixed effects stand.");
        yield return Convergence(fit.Iterations);

        string Column(string name) => name == DesignMatrix.InterceptName ? "level" : terms.Terms.FirstOrDefault(t => t.Name == name)?.Label ?? name;
    }
}
