using System.Globalization;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>Says in words what the measures of a course are: entry, competing events, recovery, diaries, scores and flags.</summary>
internal static class CourseWords
{
    internal static string Describe(MeasureDefinition measure, StudyProtocol protocol) => measure switch
    {
        EntryMeasure m => $"Day since enrolment from which events are collected, as recorded in {MeasureWords.Lower(protocol.Table(m.Table).Label)}; 0 where there is no row.",
        FirstOfMeasure m => $"Which came first within {Name(m.FollowUp, protocol)}: {string.Join(", ", m.Outcomes.Select(o => $"{o.Label} ({MeasureWords.Events(o.Events)})"))}, or {FirstOfWords.None}. Of two on one day the one named first counts.",
        FirstOfDayMeasure m => $"Day since enrolment of {Name(m.Of, protocol)}, or the end of follow-up.",
        AfterMeasure m => After(m, protocol),
        InOrderMeasure m => $"Whether these follow each other: {string.Join(", ", m.Of.Select(id => Name(id, protocol)))}.",
        WeeklyMeasure m => Weekly(m, protocol),
        WeeklyChangesMeasure m => $"Number of different changes within a week since enrolment ({string.Join(", ", m.Codes)}); one at a time is 0 or 1.",
        OwnWeeksMeasure m => OwnWeeks(m, protocol),
        OutcomeScoreMeasure m => Score(m),
        MeaningfulChangeMeasure m => Change(m, protocol),
        ClinicalFlagMeasure m => Flag(m, protocol),
        _ => string.Empty,
    };

    private static string Name(string id, StudyProtocol protocol) => MeasureWords.Lower(protocol.Measure(id).Label);

    private static string After(AfterMeasure m, StudyProtocol protocol)
    {
        string until = MeasureWords.Lower(protocol.Table(m.Until.Table).Label)
            + (m.Until.Codes.IsEmpty ? string.Empty : $" ({string.Join(" or ", m.Until.Codes.Select(c => c.Replace('_', ' ')))})");
        string origin = $"the first {MeasureWords.Events(m.Origin)} within {Name(m.FollowUp, protocol)}";
        return m.Value switch
        {
            AfterValue.ReachedAfter => $"Whether a row of {until} follows {origin}.",
            AfterValue.WatchedAfter => $"Time from {origin} to the first row of {until}, or to the end of follow-up where there is none.",
            _ => $"Time from {origin} to the first row of {until}; missing where there is none.",
        };
    }

    private static string Weekly(WeeklyMeasure m, StudyProtocol protocol)
    {
        string label = protocol.Table(m.Table).Column(m.Column)?.Label ?? m.Column;
        string wear = m.Wear is { } rule ? Text($" A day counts when worn for {rule.AtLeastHours:0.##} hours or more (source: {rule.Source.TrimEnd('.')}).") : string.Empty;
        string how = m.Reduction == WeeklyReduction.Mean ? "mean of the days that count" : "seven times the mean of the days that count";
        return Text($"{label} in weeks since enrolment: {how}; {m.MinimumDays} days or more, else missing.{wear}");
    }

    private static string OwnWeeks(OwnWeeksMeasure m, StudyProtocol protocol) => m.Value switch
    {
        OwnWeeksValue.WeekBefore => $"{protocol.Measure(m.Of).Label} of the week before, same participant.",
        OwnWeeksValue.PersonMean => $"{protocol.Measure(m.Of).Label}: mean of the participant's weeks.",
        _ => $"{protocol.Measure(m.Of).Label} minus the mean of the participant's own weeks.",
    };

    private static string Score(OutcomeScoreMeasure m)
    {
        string good = m.Direction == ScoreDirection.HighIsGood ? "high is good" : "low is good";
        string items = m.Items is { } rule
            ? Text($" Mean of the items answered, stretched to the range; {rule.AtLeastAnswered} of {rule.Columns.Length} items or more, else missing (source: {rule.Source.TrimEnd('.')}).")
            : " Total as sent.";
        string detectable = m.DetectableChange is { } d
            ? Text($" Smallest detectable change of one person: {d.Points:0.##} points ({d.Source.TrimEnd('.')}).")
            : " No smallest detectable change is declared.";
        string important = m.ImportantChange is { } i ? Text($" Smallest important change: {i.Points:0.##} points ({i.Source.TrimEnd('.')}).") : string.Empty;
        return Text($"{m.Range.Lowest:0.##} to {m.Range.Highest:0.##}, {good}.{items}{detectable}{important}");
    }

    private static string Change(MeaningfulChangeMeasure m, StudyProtocol protocol)
    {
        OutcomeScoreMeasure score = (OutcomeScoreMeasure)protocol.Measure(m.To);
        ChangeValue limit = (score.DetectableChange ?? score.ImportantChange)!;
        return Text($"From {Name(m.From, protocol)} to {Name(m.To, protocol)}: better or worse by {limit.Points:0.##} points or more, else {ChangeWords.Labels[1]}.");
    }

    private static string Flag(ClinicalFlagMeasure m, StudyProtocol protocol)
    {
        string conditions = string.Join("; ", m.Conditions.Select(c => c.AtLeast is { } least
            ? Text($"{Name(c.Measure, protocol)} {least:0.##} or more")
            : $"{Name(c.Measure, protocol)}: {c.Code}"));
        return $"Shown to the clinical team when all hold: {conditions}. It is no diagnosis.";
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
