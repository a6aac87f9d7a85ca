using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>The participant flow in words and numbers; small counts of people are hidden, with the counts of their units.</summary>
internal static class FlowWords
{
    internal static string BoxLabel(FlowStep step) => step.Branch is { } id ? $"{id} {step.Label}" : Sentence(step.Label);

    private static string Sentence(string label) => label.Length == 0 ? label : char.ToUpperInvariant(label[0]) + label[1..];

    /// <summary>251 participants, 498 knees.</summary>
    internal static string Counts(StudyFacts study, int participants, int units)
    {
        SmallCounts small = new(study.SmallestPrintedCount);
        string people = small.Words(participants, study.ParticipantOne, study.ParticipantMany);
        bool both = units > 0 && study.UnitOne is not null && study.UnitMany is not null && !small.Hides(participants);
        return both ? $"{people}, {NumberFormat.Count(units, study.UnitOne!, study.UnitMany!)}" : people;
    }

    /// <summary>A line per reason: "no imaging: 41 participants (84 knees)".</summary>
    internal static ImmutableArray<string> LeftOut(StudyFacts study, FlowStep step)
        => step.LeftOut.IsEmpty ? [] : ["Left out", .. step.LeftOut.Select(r => $"{r.Reason}: {ReasonCounts(study, r)}")];

    /// <summary>Counts of a reason. Without a count of people, its rows stand alone and are hidden by the same rule.</summary>
    internal static string ReasonCounts(StudyFacts study, ReasonCount reason)
    {
        SmallCounts small = new(study.SmallestPrintedCount);
        (string one, string many) = study is { UnitOne: { } unit, UnitMany: { } units } ? (unit, units) : ("row", "rows");
        if (reason.Participants == 0)
            return small.Words(reason.Rows, one, many);
        string people = small.Words(reason.Participants, study.ParticipantOne, study.ParticipantMany);
        return reason.Rows == 0 || small.Hides(reason.Participants) ? people : $"{people} ({NumberFormat.Count(reason.Rows, one, many)})";
    }

    internal static string Caption(StudyResults results)
        => results.Study.SmallestPrintedCount > 1
            ? $"Counts of people under {results.Study.SmallestPrintedCount} are not printed."
            : "Every count is printed.";

    internal static string AlternativeText(StudyResults results, FigureRequest request)
    {
        IEnumerable<string> steps = results.Flow.Select(step =>
        {
            string leftOut = step.LeftOut.IsEmpty ? "" : $"; left out: {string.Join("; ", step.LeftOut.Select(r => $"{r.Reason}, {ReasonCounts(results.Study, r)}"))}";
            return $"{BoxLabel(step)}: {Counts(results.Study, step.Participants, step.Units)}{leftOut}.";
        });
        return $"{request.Title}. Flow chart from top to bottom. {string.Join(" ", steps)}";
    }

    internal static FlatTable Data(StudyResults results)
    {
        SmallCounts small = new(results.Study.SmallestPrintedCount);
        List<ImmutableArray<FlatCell>> rows = [];
        foreach (FlowStep step in results.Flow)
        {
            foreach (ReasonCount reason in step.LeftOut)
                rows.Add([step.Branch ?? "trunk", "left out before: " + step.Label, reason.Reason, reason.Participants == 0 ? "" : small.Text(reason.Participants), HidesRows(reason, small) ? "" : reason.Rows]);
            rows.Add([step.Branch ?? "trunk", step.Label, "", small.Text(step.Participants), small.Hides(step.Participants) ? "" : step.Units]);
        }
        return new FlatTable(["part", "step", "reason", "participants", "units_or_rows"], [.. rows]);
    }

    private static bool HidesRows(ReasonCount reason, SmallCounts small)
        => reason.Participants == 0 ? small.Hides(reason.Rows) : small.Hides(reason.Participants);
}
