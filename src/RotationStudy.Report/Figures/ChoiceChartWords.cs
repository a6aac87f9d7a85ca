using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>Order, caption, alternative text and data of a chart of choices.</summary>
internal static class ChoiceChartWords
{
    /// <summary>The combinations with an estimate, smallest first; equal estimates keep the order of the options.</summary>
    internal static ImmutableArray<ChoiceFit> Ordered(ChoiceGarden garden)
        => [.. garden.Fits.Where(f => f.Estimate is not null).OrderBy(f => f.Estimate!.Value)];

    internal static string Caption(ChoiceGarden garden)
        => $"{garden.Label}. {garden.Sentence} Filled: the interval excludes no association; hollow and grey: it includes it. "
            + "Intervals are 95% and not adjusted for their number; the combinations share their data, so their count is no test.";

    internal static string AlternativeText(FigureRequest request, ChoiceGarden garden)
        => $"{request.Title}. Estimates of {garden.Question}, {garden.Label}, in order, with the options of {garden.Decisions.Length} decisions below. {garden.Sentence} {string.Join(' ', garden.Influence)}";

    internal static FlatTable Data(ChoiceGarden garden)
    {
        ImmutableArray<string> columns =
            ["order", .. garden.Decisions.Select(d => d.Name), "scale", "estimate", "lower", "upper", "p_value", "participants", "rows", "events", "why_no_estimate"];
        ChoiceFit[] all = [.. Ordered(garden), .. garden.Fits.Where(f => f.Estimate is null)];
        return new FlatTable(columns, [.. all.Select((fit, i) => ImmutableArray.CreateRange<FlatCell>(
        [
            i + 1,
            .. garden.Decisions.Select((d, at) => (FlatCell)d.Options[fit.Options[at]].Label),
            fit.Estimate?.Scale ?? "",
            fit.Estimate?.Value, fit.Estimate?.Lower, fit.Estimate?.Upper, fit.Estimate?.PValue,
            fit.Participants, fit.Rows, fit.Events, fit.NotFitted ?? "",
        ]))]);
    }
}
