using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>The exposures' estimates within each group of a measure: the planned model with products of exposures and group.</summary>
/// <remarks>
/// One model holds all groups, so the adjustment is the same in each; the estimate within a group is that of the exposure
/// with this group as the reference, and the test of the products asks whether the groups differ at all.
/// </remarks>
internal static class SubgroupAnalysis
{
    private const int FewestParticipants = 5;
    private const string Reason = "subgroup";

    internal static SubgroupEstimates Estimate(StudyProtocol protocol, DerivedMeasures measures, QuestionDefinition question, string by)
    {
        MeasureColumn measure = measures[by];
        int[] codes = measure.IsCoded ? [.. Enumerable.Range(0, measure.Codes.Length)] : [0, 1];
        ImmutableArray<double?> tests = [.. question.Exposures.Select(_ => (double?)null)];
        List<SubgroupEstimate> groups = [];
        foreach (int code in codes)
        {
            AnalysisInput input = AnalysisInput.Prepare(protocol, measures, WithProducts(question, measure, code));
            int[] rows = [.. Enumerable.Range(0, input.Table.Rows).Where(r => (int)input.Values(by)[r] == code)];
            if (rows.Length == 0)
                continue;
            (SubgroupEstimate group, ImmutableArray<double?> found) = Within(input, measure, code, rows);
            groups.Add(group);
            if (group.WhyNone is null)
                tests = found;
        }
        return new SubgroupEstimates(
            by, measure.Definition.Label, [.. groups], tests,
            $"The planned model with products of each exposure and {Sentences.LowerFirst(measure.Definition.Label)}; p values by the test of the product, or by a Wald test of several.");
    }

    private static QuestionDefinition WithProducts(QuestionDefinition question, MeasureColumn measure, int code)
    {
        string id = measure.Definition.Id;
        AdjustmentTerm group = measure.IsCoded
            ? new AdjustmentTerm(id, 1, 0, measure.Codes[code].Code, Reason)
            : new AdjustmentTerm(id, 1, code, null, Reason);
        return question with
        {
            Adjustment = [.. question.Adjustment.Where(a => a.Measure != id), group],
            Interactions = [.. question.Interactions, .. question.Exposures.Select(e => new InteractionTerm(e.Measure, id))],
        };
    }

    private static (SubgroupEstimate Group, ImmutableArray<double?> Tests) Within(AnalysisInput input, MeasureColumn measure, int code, int[] rows)
    {
        string name = Pictures.RowGroups.NameOf(measure, code);
        AnalysisCounts counts = Counts(input, rows);
        SubgroupEstimate Without(string why) => new(name, counts, [], why);
        int fewest = Math.Max(FewestParticipants, input.Protocol.Study.SmallestPrintedCount);
        if (counts.Participants < fewest)
            return (Without($"fewer than {fewest} {input.Protocol.Study.ParticipantWords.Many}"), []);
        if (input.Terms.Blocked is { } blocked)
            return (Without(blocked), []);
        try
        {
            Coefficients fit = PlannedModel.Fit(input);
            string scale = PlannedModel.Scale(input.Question.Kind);
            ImmutableArray<EstimateRow> all = PlannedModel.IsRatio(input.Question.Kind)
                ? EstimateRows.Ratios(fit, input.Terms, scale)
                : EstimateRows.Differences(fit, input.Terms, input.Measures[input.Question.Outcome!].Definition.Unit);
            return (new SubgroupEstimate(name, counts, [.. all.Where(e => e.Role == "exposure")], null),
                [.. input.Question.Exposures.Select(e => Test(input, fit, e, measure))]);
        }
        catch (StatisticsError error)
        {
            return (Without(error.What), []);
        }
    }

    private static double? Test(AnalysisInput input, Coefficients fit, ExposureTerm exposure, MeasureColumn by)
    {
        string[] products = [.. input.Terms.Terms
            .Where(t => t.Role == "interaction" && t.Measure == exposure.Measure && t.Name.Contains($" x {by.Definition.Id}", StringComparison.Ordinal))
            .Select(t => t.Name)];
        // One product is tested as its own estimate is, with the degrees of freedom of its variance.
        return products.Length == 0 ? null : products.Length == 1 ? fit.Estimate(products[0]).PValue : fit.WaldTest(products).PValue;
    }

    private static AnalysisCounts Counts(AnalysisInput input, int[] rows)
    {
        string? events = input.Question.Kind switch
        {
            QuestionKind.Odds or QuestionKind.Rate or QuestionKind.WithinPerson => input.Question.Outcome,
            QuestionKind.TimeToFirst or QuestionKind.AllEvents => input.Question.Event,
            _ => null,
        };
        return new AnalysisCounts(
            rows.Select(r => input.Table.Participants[r]).Distinct().Count(),
            input.Table.Level.HasSides() ? rows.Select(r => (input.Table.Keys[r].Participant, input.Table.Keys[r].Side)).Distinct().Count() : 0,
            rows.Length, events is null ? 0 : (int)rows.Sum(r => input.Values(events)[r]), 0, null);
    }
}
