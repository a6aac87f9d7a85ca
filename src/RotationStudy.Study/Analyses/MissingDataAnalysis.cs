using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Imputation;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Study.Trace;

namespace RotationStudy.Study.Analyses;

/// <summary>Complete cases, multiple imputation and imputation with planned shifts, side by side.</summary>
/// <remarks>
/// Persons are the rows of the imputed table and sides its columns (see <see cref="ImputationFrame"/>), so that the other side
/// of a person and the outcome help to predict what is missing, and what belongs to the person is imputed once. Every shift
/// draws from the same stream, so answers differ by the shift alone.
/// </remarks>
internal static class MissingDataAnalysis
{
    internal static MissingDataComparison? Compare(AnalysisInput input, QuestionResult answer)
    {
        if (input.Question.MissingData is not { } plan)
            return null;
        ImmutableArray<EstimateRow> complete = [.. answer.Estimates.Where(IsExposure)];
        MissingDataApproach completeCases = new("Complete cases", null, complete, []);
        ImputationFrame frame = ImputationFrame.Of(input);
        string method = Method(input, plan);
        try
        {
            double[] shifts = [0, .. plan.By.Where(s => s != 0).Distinct().Order()];
            MissingDataApproach[] imputed = [.. shifts.Select(s => Imputed(input, frame, plan, s))];
            return new MissingDataComparison(frame.Rows, frame.IncompleteRows, method, [completeCases, .. imputed], Sentence(completeCases, imputed, plan, input)) { Participants = frame.Persons };
        }
        catch (StatisticsError error)
        {
            return new MissingDataComparison(frame.Rows, frame.IncompleteRows, method, [completeCases], $"Imputation gave no answer: {error.What}. {error.Hint}") { Participants = frame.Persons };
        }
    }

    private static bool IsExposure(EstimateRow row) => row.Role is "exposure" or "interaction";

    private static MissingDataApproach Imputed(AnalysisInput input, ImputationFrame frame, MissingDataPlan plan, double shift)
    {
        ImputationOptions options = new()
        {
            Imputations = plan.Imputations,
            Seed = (ulong)input.Protocol.Study.Seed,
            Stream = RandomUses.MissingData(input.Question),
        };
        ImputedTables tables = ChainedEquations.Run(frame.Columns(plan.Shift, shift), options);
        Coefficients[] fits = new Coefficients[tables.Count];
        ModelTerms terms = input.Terms;
        for (int copy = 0; copy < fits.Length; copy++)
        {
            AnalysisInput completed = frame.Completed(tables, copy);
            terms = completed.Terms;
            fits[copy] = PlannedModel.Fit(completed);
        }
        PooledCoefficients pooled = RubinPooling.Pool(fits, frame.Persons - 1);
        bool ratio = PlannedModel.IsRatio(input.Question.Kind);
        string scale = PlannedModel.Scale(input.Question.Kind);
        string? unit = ratio ? null : input.Measures[input.Question.Outcome!].Definition.Unit;
        (EstimateRow Row, double Missing)[] rows =
        [
            .. terms.Terms.Where(t => t.Role != "adjustment").Select(t =>
            {
                PooledEstimate estimate = pooled.Terms[pooled.Coefficients.IndexOf(t.Name)];
                string own = ratio && t.Role == "interaction" ? $"ratio of {scale}s" : scale;
                return (EstimateRows.Row(estimate.Estimate, t, own, unit, ratio ? 1 : 0, ratio ? Math.Exp : v => v, "pooled by Rubin's rules"), estimate.FractionOfMissingInformation);
            }),
        ];
        string name = shift == 0 ? "Imputed as if missing at random" : string.Create(CultureInfo.InvariantCulture, $"Imputed values of {Label(input, plan)} {(shift > 0 ? "raised" : "lowered")} by {Math.Abs(shift):0.###}");
        return new MissingDataApproach(name, shift, [.. rows.Select(r => r.Row)], [.. rows.Select(r => r.Missing)]);
    }

    private static string Label(AnalysisInput input, MissingDataPlan plan) => Sentences.LowerFirst(input.Measures[plan.Shift].Definition.Label);

    private static string Method(AnalysisInput input, MissingDataPlan plan)
        => $"Chained equations, {plan.Imputations} imputations, 10 passes; numbers by predictive mean matching, two codes by logistic and more codes by proportional-odds regression; "
            + $"the outcome and the other {input.Protocol.Study.UnitWords?.One ?? "values"} of the {input.Protocol.Study.ParticipantWords.One} are in the imputation model. {plan.Reason}";

    /// <summary>Whether any assumption changes which intervals hold no association; the first shift that does is the tipping point.</summary>
    private static string Sentence(MissingDataApproach complete, MissingDataApproach[] imputed, MissingDataPlan plan, AnalysisInput input)
    {
        bool[] planned = [.. complete.Estimates.Select(Excludes)];
        string random = Same(imputed[0], planned)
            ? "Imputation as if missing at random leads to the same reading as complete cases."
            : "Imputation as if missing at random leads to another reading than complete cases.";
        MissingDataApproach? tipping = imputed.Skip(1).Where(a => !Same(a, [.. imputed[0].Estimates.Select(Excludes)])).OrderBy(a => Math.Abs(a.Shift!.Value)).FirstOrDefault();
        if (imputed.Length == 1)
            return random;
        return tipping is null
            ? $"{random} None of the planned shifts of {Label(input, plan)} changes it."
            : FormattableString.Invariant($"{random} It tips when imputed values of {Label(input, plan)} are shifted by {tipping.Shift:0.###}.");
    }

    private static bool Excludes(EstimateRow row) => row.Lower > row.NoEffect || row.Upper < row.NoEffect;

    private static bool Same(MissingDataApproach approach, bool[] planned) => approach.Estimates.Select(Excludes).SequenceEqual(planned);
}
