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
        QuestionSupplement supplement = new(
            [.. SupplementaryAnalyses.Run(protocol, measures, question)],
            [.. bends, .. Collinearity(input), .. moved], influence, shapes,
            MissingDataAnalysis.Compare(input, answer),
            [.. EValueWords.Of(answer, input)])
        {
            MeasurementError = MeasurementErrorAnalysis.Compare(input, answer),
        };
        QuestionResult full = answer with
        {
            Supplement = supplement,
            Subgroups = [.. question.Subgroups.Select(s => SubgroupAnalysis.Estimate(protocol, measures, question, s))],
            Citations = [.. answer.Citations, .. supplement.EValues.IsEmpty ? Array.Empty<string>() : [Sources.EValue], .. supplement.MissingData is null ? Array.Empty<string>() : [Sources.Rubin], .. supplement.MeasurementError is null ? Array.Empty<string>() : [Sources.RosnerSpiegelmanWillett, Sources.CarrollMeasurementError]],
        };
        return FailedChecks.Word(full, question);
    }

    private static IEnumerable<DiagnosticFinding> Collinearity(AnalysisInput input)
    {
        const string check = CheckNames.Collinearity;
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
}
