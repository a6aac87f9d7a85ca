using System.Collections.Immutable;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Choices;

/// <summary>Says how often the planned conclusion holds, and which decision moves the estimate.</summary>
internal static class ChoiceWords
{
    internal static ChoiceGarden Tell(ChoicePlan choices, AnalysisInput planned, ImmutableArray<ChoiceFit> fits, int different)
    {
        QuestionDefinition question = planned.Question;
        bool ratio = question.Kind is not (QuestionKind.Mean or QuestionKind.Trajectory);
        double none = ratio ? 1 : 0;
        ExposureTerm exposure = question.Exposures.First(e => e.Measure == choices.Exposure);
        ChoiceEstimate[] estimates = [.. fits.Select(f => f.Estimate).OfType<ChoiceEstimate>()];
        int? verdict = fits[0].Estimate is { } first ? Side(first, none) : null;
        int holds = verdict is { } side ? estimates.Count(e => Side(e, none) == side) : 0;
        return new ChoiceGarden(
            question.Id,
            Labels.WithStep(planned.Measures[choices.Exposure].Definition, exposure.Per),
            estimates.Length == 0 ? (ratio ? "ratio" : "difference") : string.Join(", ", estimates.Select(e => e.Scale).Distinct()),
            ratio ? null : planned.Measures[question.Outcome!].Definition.Unit,
            none,
            [.. choices.Dimensions.Select(d => new ChoiceDecision(d.Name, [.. d.Options.Select(o => new ChoiceOptionFacts(o.Label, o.Reason))]))],
            fits, different, holds,
            Sentence(fits, estimates, verdict, holds, none, different),
            [.. choices.Dimensions.Select((d, i) => Influence(d, i, fits))]);
    }

    /// <summary>-1 where the whole interval lies below no association, 1 above, 0 where it includes it.</summary>
    internal static int Side(ChoiceEstimate estimate, double none) => estimate.Lower > none ? 1 : estimate.Upper < none ? -1 : 0;

    private static string Sentence(ImmutableArray<ChoiceFit> fits, ChoiceEstimate[] estimates, int? verdict, int holds, double none, int different)
    {
        string equal = different < fits.Length ? $" ({different} of them differ in rows or model)" : string.Empty;
        string failed = estimates.Length < fits.Length ? $" {fits.Length - estimates.Length} could not be fitted." : string.Empty;
        if (verdict is not { } side)
            return $"The planned combination could not be fitted ({fits[0].NotFitted}), so there is no conclusion that others could share; {estimates.Length} of {fits.Length} combinations{equal} have an estimate.{failed}";
        string conclusion = side switch
        {
            0 => $"the 95% interval includes no association ({none:0})",
            1 => $"the whole 95% interval lies above {none:0}",
            _ => $"the whole 95% interval lies below {none:0}",
        };
        int opposite = side == 0 ? 0 : estimates.Count(e => Side(e, none) == -side);
        string rest = side == 0
            ? $"in {estimates.Length - holds} it does not"
            : $"in {estimates.Length - holds - opposite} it includes no association and in {opposite} it lies on the other side";
        double[] values = [.. estimates.Select(e => e.Value).Order()];
        return $"In {holds} of {fits.Length} combinations{equal} {conclusion}, as in the planned analysis; {rest}.{failed} "
            + $"Estimates run from {Sentences.Number(values[0])} to {Sentences.Number(values[^1])}, planned {Sentences.Number(fits[0].Estimate!.Value)}.";
    }

    /// <summary>The middle estimate under each option, over all combinations that take it.</summary>
    private static string Influence(ChoiceDimension dimension, int at, ImmutableArray<ChoiceFit> fits)
        => $"{dimension.Name}: middle estimate " + Sentences.List(dimension.Options.Select((option, o) =>
        {
            double[] values = [.. fits.Where(f => f.Options[at] == o && f.Estimate is not null).Select(f => f.Estimate!.Value).Order()];
            string middle = values.Length == 0 ? "none" : Sentences.Number((values[(values.Length - 1) / 2] + values[values.Length / 2]) / 2);
            return $"{middle} under '{option.Label}'";
        })) + ".";
}
