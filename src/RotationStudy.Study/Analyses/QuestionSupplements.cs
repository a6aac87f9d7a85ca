using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Regression;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Puts beside an answer what the plan asks for and what runs unasked. The answer itself is never exchanged; a failed check adds a warning.</summary>
internal static class QuestionSupplements
{
    // Common practice, no source: a standard error doubled by the other terms (a factor of 4) is worth a word.
    private const double LargeInflation = 4;

    internal static QuestionResult Add(StudyProtocol protocol, DerivedMeasures measures, QuestionDefinition question, QuestionResult answer)
    {
        if (!answer.Answered || answer.Estimates.IsEmpty)
            return answer;
        AnalysisInput input = AnalysisInput.Prepare(protocol, measures, question);
        (ImmutableArray<ShapeCurve> shapes, ImmutableArray<DiagnosticFinding> bends) = ExposureShapes.Draw(input);
        (ImmutableArray<InfluenceByPerson> influence, ImmutableArray<DiagnosticFinding> moved) = PersonInfluence.Find(input, answer.Estimates);
        ImmutableArray<DiagnosticFinding> findings = [.. WithAlternatives([.. bends, .. Collinearity(input), .. moved], question)];
        QuestionSupplement supplement = new(
            [.. SupplementaryAnalyses.Run(protocol, measures, question)],
            findings, influence, shapes,
            MissingDataAnalysis.Compare(input, answer),
            [.. EValueWords.Of(answer)])
        {
            MeasurementError = MeasurementErrorAnalysis.Compare(input, answer),
        };
        return answer with
        {
            Supplement = supplement,
            Subgroups = [.. question.Subgroups.Select(s => SubgroupAnalysis.Estimate(protocol, measures, question, s))],
            Citations = [.. answer.Citations, .. supplement.EValues.IsEmpty ? Array.Empty<string>() : [Sources.EValue], .. supplement.MissingData is null ? Array.Empty<string>() : [Sources.Rubin], .. supplement.MeasurementError is null ? Array.Empty<string>() : [Sources.RosnerSpiegelmanWillett, Sources.CarrollMeasurementError]],
            Warnings = [.. answer.Warnings, .. findings.Where(f => f.Status == FindingStatus.Doubtful).Select(Warning)],
        };
    }

    private static string Warning(DiagnosticFinding finding)
        => $"{finding.Check} is doubtful. {finding.Words}{(finding.Alternative is null ? string.Empty : $" Read beside it: {finding.Alternative}.")}";

    private static IEnumerable<DiagnosticFinding> Collinearity(AnalysisInput input)
    {
        const string check = "Terms that say the same";
        if (input.Terms.Terms.Length < 2)
            yield break;
        IReadOnlyList<VarianceInflation> factors = [];
        string? failed = null;
        try
        {
            Coefficients fit = LinearRegression.Fit(input.DesignWithIntercept(), new double[input.Table.Rows].Select((_, i) => (double)(i % 2)).ToArray()).ModelBased;
            factors = VarianceInflation.Of(fit);
        }
        catch (StatisticsError error)
        {
            failed = error.What;
        }
        if (failed is not null)
        {
            yield return new DiagnosticFinding(check, FindingStatus.NotCheckable, $"It cannot be checked: {failed}.", null);
            yield break;
        }
        VarianceInflation worst = factors.MaxBy(f => f.Factor)!;
        string label = input.Terms.Terms.First(t => t.Name == worst.Terms[0]).Label;
        string words = $"The other terms widen the variance most for {label}: {Sentences.Number(worst.Factor)} times (variance inflation of the columns).";
        yield return worst.Factor < LargeInflation
            ? new DiagnosticFinding(check, FindingStatus.Held, words, null)
            : new DiagnosticFinding(check, FindingStatus.Doubtful, words + " Its estimate and those of its companions can hardly be told apart.", null);
    }

    /// <summary>Points a failed check at the analysis that the plan named for it.</summary>
    private static IEnumerable<DiagnosticFinding> WithAlternatives(ImmutableArray<DiagnosticFinding> findings, QuestionDefinition question)
    {
        foreach (DiagnosticFinding finding in findings)
        {
            PlannedCheck? kind = finding.Check switch
            {
                "Terms that say the same" => PlannedCheck.Collinearity,
                "Influence of single persons" => PlannedCheck.Influence,
                _ => null,
            };
            SensitivityAnalysis? planned = kind is null ? null : question.Sensitivity.FirstOrDefault(s => s.When == kind);
            yield return planned is not null && finding.Status == FindingStatus.Doubtful ? finding with { Alternative = planned.Name } : finding;
        }
    }
}
