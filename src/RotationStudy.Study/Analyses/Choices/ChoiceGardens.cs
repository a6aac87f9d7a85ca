using System.Collections.Concurrent;
using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Choices;

/// <summary>Carries out every combination of the choices that a plan lists.</summary>
/// <remarks>
/// Measures that an option changes are derived once per change; combinations with the same rows and model are fitted once.
/// Fits run on all cores: each is a function of its own rows alone, started afresh, so the cores change no digit.
/// <para>Source: Steegen S, Tuerlinckx F, Gelman A, Vanpaemel W. Increasing transparency through a multiverse analysis.
/// Perspect Psychol Sci 2016;11:702-712 (recalled, not re-read). The combinations share their data, so the count of
/// those that agree is a description and no test.</para>
/// </remarks>
public static class ChoiceGardens
{
    /// <summary>One garden per list of choices, in the order of the plan.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="records">Checked records, for the measures that an option derives otherwise.</param>
    /// <param name="measures">The measures as planned.</param>
    public static ImmutableArray<ChoiceGarden> Build(StudyProtocol protocol, CheckedRecords records, DerivedMeasures measures)
    {
        ChosenMeasures derived = new(protocol, records, measures);
        return [.. protocol.Plan.Choices.Select(c => Build(c, protocol.Plan.Questions.First(q => q.Id == c.Question), derived))];
    }

    private static ChoiceGarden Build(ChoicePlan choices, QuestionDefinition planned, ChosenMeasures derived)
    {
        ImmutableArray<ImmutableArray<int>> combinations = Combinations(choices);
        ChoiceFit[] fits = new ChoiceFit[combinations.Length];
        ConcurrentDictionary<string, Lazy<ChoiceFit>> known = new(StringComparer.Ordinal);
        // Measures are derived before the cores part, in the order of the combinations.
        (ChosenQuestion Chosen, StudyProtocol Protocol, DerivedMeasures Measures)[] works = [.. combinations.Select(options =>
        {
            ChoiceOption[] taken = [.. options.Select((o, d) => choices.Dimensions[d].Options[o])];
            (StudyProtocol protocol, DerivedMeasures measures) = derived.Under(taken);
            return (ChosenQuestion.Of(planned, choices.Exposure, taken), protocol, measures);
        })];
        Parallel.For(0, works.Length, i =>
        {
            (ChosenQuestion chosen, StudyProtocol protocol, DerivedMeasures measures) = works[i];
            AnalysisInput input = AnalysisInput.Prepare(protocol, measures, chosen.Question);
            Lazy<ChoiceFit> fit = known.GetOrAdd(FitKey.Of(input, chosen), _ => new Lazy<ChoiceFit>(() => Fit(input, chosen)));
            fits[i] = fit.Value with { Options = combinations[i] };
        });
        AnalysisInput first = AnalysisInput.Prepare(works[0].Protocol, works[0].Measures, planned);
        return ChoiceWords.Tell(choices, first, [.. fits], known.Count);
    }

    /// <summary>All combinations, the last decision running fastest, so that the first is the planned one.</summary>
    private static ImmutableArray<ImmutableArray<int>> Combinations(ChoicePlan choices)
    {
        IEnumerable<ImmutableArray<int>> all = [[]];
        foreach (ChoiceDimension dimension in choices.Dimensions)
            all = all.SelectMany(begun => Enumerable.Range(0, dimension.Options.Length).Select(o => begun.Add(o)));
        return [.. all];
    }

    private static ChoiceFit Fit(AnalysisInput input, ChosenQuestion chosen)
    {
        ChoiceFit none = new([], null, input.Table.ParticipantCount, input.Table.Rows, 0, null);
        if (input.Blocked is { } blocked)
            return none with { NotFitted = blocked };
        try
        {
            (EstimateRow row, int events) = ChosenFit.Fit(input, chosen.Exposure, chosen.Counts);
            return none with { Events = events, Estimate = new ChoiceEstimate(row.Scale, row.Value, row.Lower, row.Upper, row.PValue) };
        }
        catch (StatisticsError error)
        {
            return none with { NotFitted = error.What };
        }
    }
}
