using System.Globalization;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>Says in words what a measure is with the options that the protocol chose.</summary>
public static class MeasureWords
{
    /// <summary>The declared definition, if any, followed by how the value is reached.</summary>
    /// <param name="measure">The measure.</param>
    /// <param name="protocol">The protocol it belongs to.</param>
    public static string Describe(MeasureDefinition measure, StudyProtocol protocol)
    {
        string how = measure switch
        {
            ValueMeasure m => Recorded(m, protocol),
            PairMeasure m => string.Format(CultureInfo.InvariantCulture, Arithmetic(m.Operation), protocol.Measure(m.First).Label, protocol.Measure(m.Second).Label),
            SideDifferenceMeasure m => $"{protocol.Measure(m.Of).Label} of this side minus that of the other side.",
            SideMeanMeasure m => $"Mean of both sides: {Lower(protocol.Measure(m.Of).Label)}.",
            CriteriaScoreMeasure m => $"Number of components met, 0 to {m.Components.Length}: {string.Join("; ", m.Components.Select(c => Component(c, protocol.Table(m.Table))))}. A missing component makes the score missing.",
            FollowUpMeasure m => FollowUp(m, protocol),
            EventCountMeasure m => $"Number of {Events(m.Events)} after the day of enrolment and within {Lower(protocol.Measure(m.FollowUp).Label)}{Merging(m.Events)}.",
            AnyEventMeasure m => $"Whether any {Events(m.Events)} occurred after the day of enrolment and within {Lower(protocol.Measure(m.FollowUp).Label)}{Merging(m.Events)}.",
            FirstEventDayMeasure m => $"Day of the first {Events(m.Events)} after enrolment, or the end of {Lower(protocol.Measure(m.FollowUp).Label)} when there was none.",
            GroupsMeasure m => $"{protocol.Measure(m.Of).Label} in groups: {string.Join(", ", m.Labels)}; a value on a cut point belongs to the group above.",
            _ => ReadingWords.Describe(measure, protocol) ?? CourseWords.Describe(measure, protocol),
        };
        return measure.Definition is null ? how : $"{measure.Definition.TrimEnd()} {how}";
    }

    /// <summary>Where a recorded value comes from.</summary>
    internal static string Recorded(ValueMeasure m, StudyProtocol protocol)
    {
        TableDefinition table = protocol.Table(m.Table);
        string visit = m.Visit is null ? string.Empty : $" at {Lower(protocol.Study.Visits.FirstOrDefault(v => v.Id == m.Visit)?.Label ?? m.Visit)}";
        string method = m.Method is null ? string.Empty : $", method {table.Column(m.MethodColumn!)?.Codes.FirstOrDefault(c => c.Code == m.Method)?.Meaning ?? m.Method} only";
        string reduced = m.Reduction switch
        {
            Reduction.Mean => "mean where several were recorded",
            Reduction.First => "the first where several were recorded",
            _ => "the last where several were recorded",
        };
        string gate = m.HipGate ? " Set aside at visits whose hip is not cleared." : string.Empty;
        return $"As recorded in {Lower(table.Label)}{visit}{method}; {reduced}.{gate}";
    }

    private static string Arithmetic(PairOperation operation) => operation switch
    {
        PairOperation.Sum => "{0} plus {1}.",
        PairOperation.Difference => "{0} minus {1}.",
        PairOperation.HalfDifference => "Half of ({0} minus {1}): the middle of the arc between them.",
        _ => "{0} times {1}.",
    };

    private static string Component(ScoreComponent component, TableDefinition table)
    {
        ColumnDefinition? column = table.Column(component.Column);
        string label = column?.Label ?? component.Column;
        string unit = column?.Unit is null ? string.Empty : " " + column.Unit;
        string threshold = component.Threshold.ToString("0.##", CultureInfo.InvariantCulture);
        return component.Test switch
        {
            ComponentTest.AtLeast => $"{label} at least {threshold}{unit}",
            ComponentTest.MoreThan => $"{label} more than {threshold}{unit}",
            _ => $"{label} {column?.Codes.FirstOrDefault(c => c.Code == component.Code)?.Meaning ?? component.Code}",
        };
    }

    private static string FollowUp(FollowUpMeasure m, StudyProtocol protocol)
    {
        string from = m.Entry is { } entry ? $"{Lower(protocol.Measure(entry).Label)} (enrolment where there is none)" : "enrolment";
        return m.Events is { } e
            ? $"Days from {from} to last contact or the first {Events(e)}, whichever comes first."
            : $"Days from {from} to last contact.";
    }

    /// <summary>An event in words, such as "operation of kind derotation on the other side".</summary>
    internal static string Events(EventSelection events)
    {
        string number = events.FromNumber > 1 ? FormattableString.Invariant($" from number {events.FromNumber} on") : string.Empty;
        string kind = events.Where is { } where ? $" with {string.Join(" or ", where.Codes.Select(c => c.Replace('_', ' ')))}" : string.Empty;
        string side = events.Side switch
        {
            EventSide.Other => " of the other side",
            EventSide.Either => " of either side",
            _ => string.Empty,
        };
        return string.Join(" or ", events.Codes) + kind + side + number;
    }

    private static string Merging(EventSelection events)
        => events.MergeWithinDays == 0 ? string.Empty : string.Create(CultureInfo.InvariantCulture, $"; reports within {events.MergeWithinDays} days are one event");

    internal static string Lower(string label)
        => label.Length > 1 && char.IsLower(label[1]) ? char.ToLowerInvariant(label[0]) + label[1..] : label;
}
