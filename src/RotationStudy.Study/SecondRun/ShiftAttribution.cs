using System.Collections.Immutable;
using RotationStudy.Study.Analyses;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Study.Trace;

namespace RotationStudy.Study.SecondRun;

/// <summary>Takes the shift of every planned estimate apart into what removed, changed and added participants did.</summary>
/// <remarks>
/// The whole plan is carried out on records in which some participants are as before and the others as now: first those removed
/// are taken out, then those changed are exchanged, then those added are put in. The steps add up to the shift by construction
/// when the first fit is the earlier estimate and the last the new one, and that is checked. The order of the steps decides how
/// much each gets; the average over all six orders does not depend on it (Shapley 1953).
/// </remarks>
internal sealed class ShiftAttribution
{
    /// <summary>The steps in their order.</summary>
    internal static readonly ImmutableArray<string> Order = [ParticipantChange.Removed, ParticipantChange.Changed, ParticipantChange.Added];

    /// <summary>More participants than this are not followed one by one.</summary>
    internal const int MostPersons = 40;

    private readonly StudyProtocol protocol;
    private readonly CheckedRecords before;
    private readonly CheckedRecords after;
    private readonly ImmutableArray<ParticipantChange> changes;
    private readonly Dictionary<string, int> stepOf;

    internal ShiftAttribution(StudyProtocol protocol, CheckedRecords before, CheckedRecords after, ImmutableArray<ParticipantChange> changes)
    {
        (this.protocol, this.before, this.after, this.changes) = (protocol, before, after, changes);
        stepOf = changes.ToDictionary(c => c.Participant, c => Order.IndexOf(c.What), StringComparer.Ordinal);
    }

    /// <summary>The estimates by their ids for every set of steps taken: bit 0 removed, bit 1 changed, bit 2 added.</summary>
    internal ImmutableArray<IReadOnlyDictionary<string, EstimateRow>> BySteps(IProgress<string>? progress)
    {
        bool[] occurs = [.. Order.Select(o => changes.Any(c => c.What == o))];
        IReadOnlyDictionary<string, EstimateRow>?[] fits = new IReadOnlyDictionary<string, EstimateRow>?[1 << Order.Length];
        for (int steps = 0; steps < fits.Length; steps++)
        {
            int needed = Enumerable.Range(0, Order.Length).Where(s => occurs[s]).Sum(s => steps & (1 << s));
            if (fits[needed] is null)
                progress?.Report($"Refitting with {Words(needed)}");
            int here = needed;
            fits[steps] = fits[needed] ??= Fit(participant => stepOf.TryGetValue(participant, out int step) && (here & (1 << step)) != 0);
        }
        return [.. fits.Select(f => f!)];
    }

    /// <summary>The estimates with one participant as now and everybody else as before; empty when they are too many.</summary>
    internal ImmutableArray<(ParticipantChange Who, IReadOnlyDictionary<string, EstimateRow> Fit)> ByPerson(IProgress<string>? progress)
    {
        ParticipantChange[] people = [.. changes.Where(c => c.Participant.Length > 0)];
        if (people.Length > MostPersons)
            return [];
        progress?.Report($"Refitting with each of {people.Length} participants alone");
        IReadOnlyDictionary<string, EstimateRow>[] fits = new IReadOnlyDictionary<string, EstimateRow>[people.Length];
        Parallel.For(0, people.Length, i => fits[i] = Fit(participant => participant == people[i].Participant));
        return [.. people.Zip(fits)];
    }

    /// <summary>The steps of one estimate with the check of their sum; nothing where an end of the way is missing.</summary>
    internal static (ImmutableArray<ShiftStep> Steps, bool SumHolds) Steps(
        string id, ImmutableArray<IReadOnlyDictionary<string, EstimateRow>> fits, EstimateRow earlier, EstimateRow now, ImmutableArray<ParticipantChange> changes)
    {
        EstimateRow?[] rows = [.. fits.Select(f => f.GetValueOrDefault(id))];
        double?[] values = [.. rows.Select(r => r?.ModelValue)];
        ImmutableArray<ShiftStep>.Builder steps = ImmutableArray.CreateBuilder<ShiftStep>();
        int taken = 0;
        for (int step = 0; step < Order.Length; step++)
        {
            int next = taken | (1 << step);
            steps.Add(new ShiftStep(
                Order[step], changes.Count(c => c.What == Order[step] && c.Participant.Length > 0),
                rows[next]?.Value, values[next] - values[taken], OrderAveraged(values, step)));
            taken = next;
        }
        double? sum = steps.Aggregate((double?)0, (s, step) => s + step.Shift);
        double shift = now.ModelValue - earlier.ModelValue;
        double scale = Math.Max(Math.Abs(now.ModelValue), Math.Abs(earlier.ModelValue)) + Math.Abs(shift);
        bool ends = values[0] == earlier.ModelValue && values[^1] == now.ModelValue;
        return (steps.ToImmutable(), ends && sum is { } total && Math.Abs(total - shift) <= 1e-12 * Math.Max(scale, double.Epsilon));
    }

    /// <summary>What a step adds, averaged over the orders: the weight of a set of steps before it is the share of orders that begin with it.</summary>
    private static double? OrderAveraged(double?[] values, int step)
    {
        double? sum = 0;
        for (int earlier = 0; earlier < values.Length; earlier++)
        {
            if ((earlier & (1 << step)) != 0)
                continue;
            double weight = int.PopCount(earlier) == 1 ? 1.0 / 6 : 1.0 / 3;
            sum += weight * (values[earlier | (1 << step)] - values[earlier]);
        }
        return sum;
    }

    private Dictionary<string, EstimateRow> Fit(Func<string, bool> isNew)
    {
        DerivedMeasures measures = MeasureDeriver.Derive(protocol, RecordMix.Of(before, after, isNew));
        ImmutableArray<PlanFaultLine> faults = PlanCheck.Check(protocol, measures);
        Dictionary<string, EstimateRow> estimates = new(StringComparer.Ordinal);
        foreach (QuestionDefinition question in protocol.Plan.Questions)
        {
            QuestionResult answer = PlanCheck.Refusal(protocol, measures, question, faults) ?? AnalysisRunner.Answer(protocol, measures, question);
            foreach (IdentifiedEstimate estimate in ResultIds.Of(answer).Where(e => e.Place == ResultIds.Main))
                estimates.Add(estimate.Id, estimate.Estimate);
        }
        return estimates;
    }

    private static string Words(int steps)
        => steps == 0 ? "the earlier data" : string.Join(" and ", Order.Where((_, s) => (steps & (1 << s)) != 0)) + " participants";
}
