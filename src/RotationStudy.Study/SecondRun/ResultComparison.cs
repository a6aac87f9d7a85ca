using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;
using RotationStudy.Study.Trace;

namespace RotationStudy.Study.SecondRun;

/// <summary>Which results moved between two runs of one plan, by how much, whether a conclusion changed, and because of whom.</summary>
public static class ResultComparison
{
    /// <summary>Compares every estimate; the planned ones are taken apart.</summary>
    /// <param name="protocol">The protocol of both.</param>
    /// <param name="before">The earlier records and results.</param>
    /// <param name="after">The new records and results.</param>
    /// <param name="changes">What changed in the data.</param>
    /// <param name="progress">Told the name of each step as it begins; null for silence.</param>
    public static ImmutableArray<ResultShift> Compare(
        StudyProtocol protocol, (CheckedRecords Records, StudyResults Results) before, (CheckedRecords Records, StudyResults Results) after,
        DataChanges changes, IProgress<string>? progress = null)
    {
        IdentifiedEstimate[] old = [.. ResultIds.Of(before.Results)], young = [.. ResultIds.Of(after.Results)];
        Dictionary<string, IdentifiedEstimate> oldById = old.ToDictionary(e => e.Id, StringComparer.Ordinal);
        Dictionary<string, IdentifiedEstimate> youngById = young.ToDictionary(e => e.Id, StringComparer.Ordinal);
        ShiftAttribution attribution = new(protocol, before.Records, after.Records, changes.Participants);
        bool moved = old.Any(e => e.Place == ResultIds.Main && youngById.GetValueOrDefault(e.Id)?.Estimate != e.Estimate);
        ImmutableArray<IReadOnlyDictionary<string, EstimateRow>> steps = moved ? attribution.BySteps(progress) : [];
        ImmutableArray<(ParticipantChange Who, IReadOnlyDictionary<string, EstimateRow> Fit)> persons = moved ? attribution.ByPerson(progress) : [];
        return
        [
            .. old.Select(e => e.Id).Concat(young.Select(e => e.Id).Where(id => !oldById.ContainsKey(id)))
                .Select(id => Shift(oldById.GetValueOrDefault(id), youngById.GetValueOrDefault(id), changes.Participants, steps, persons)),
        ];
    }

    /// <summary>What an interval says: which way the association goes, or that it is not shown.</summary>
    public static string Conclusion(EstimateRow? row)
    {
        if (row is null)
            return "no estimate";
        return row.Lower > row.NoEffect ? $"above {Value(row.NoEffect)}" : row.Upper < row.NoEffect ? $"below {Value(row.NoEffect)}" : "not shown";
    }

    private static string Value(double noEffect) => noEffect == 0 ? "0" : "1";

    private static ResultShift Shift(
        IdentifiedEstimate? before, IdentifiedEstimate? after, ImmutableArray<ParticipantChange> changes,
        ImmutableArray<IReadOnlyDictionary<string, EstimateRow>> steps, ImmutableArray<(ParticipantChange Who, IReadOnlyDictionary<string, EstimateRow> Fit)> persons)
    {
        IdentifiedEstimate any = (before ?? after)!;
        double? shift = after?.Estimate.ModelValue - before?.Estimate.ModelValue;
        ResultShift result = new(
            any.Id, any.Estimate.Label, before?.Estimate, after?.Estimate, shift,
            before?.Estimate.ModelStandardError is > 0 and { } error ? shift / error : null,
            Conclusion(before?.Estimate), Conclusion(after?.Estimate), [], null, [])
        {
            IsPlanned = any is { Place: ResultIds.Main, Estimate.Role: "exposure" or "interaction" },
        };
        if (!result.IsPlanned || before is null || after is null || !result.Moved || steps.IsEmpty)
            return result;
        (ImmutableArray<ShiftStep> taken, bool holds) = ShiftAttribution.Steps(any.Id, steps, before.Estimate, after.Estimate, changes);
        return result with
        {
            Steps = taken,
            SumHolds = holds,
            Persons =
            [
                .. persons.Select(p => new ShiftOfPerson(p.Who.Participant, p.Who.Site, p.Who.What, p.Fit.GetValueOrDefault(any.Id)?.ModelValue - before.Estimate.ModelValue))
                    .OrderByDescending(p => Math.Abs(p.Shift ?? 0)).ThenBy(p => p.Participant, StringComparer.Ordinal),
            ],
        };
    }
}
