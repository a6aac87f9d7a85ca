using System.Collections.Immutable;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>Which of several competing events came first within the follow-up, and when; of two on one day, the one declared first.</summary>
internal static class FirstOfEvents
{
    internal static MeasureColumn Which(FirstOfMeasure measure, Derivation derivation)
    {
        ImmutableArray<CodeDefinition> codes = [.. FirstOfWords.Labels(measure).Select(l => new CodeDefinition(l, l))];
        return Derive(measure, measure, derivation, (position, _) => position, codes);
    }

    internal static MeasureColumn Day(FirstOfDayMeasure measure, Derivation derivation)
        => Derive(measure, (FirstOfMeasure)derivation.Done[measure.Of].Definition, derivation, (_, day) => day, []);

    private static MeasureColumn Derive(
        MeasureDefinition definition, FirstOfMeasure measure, Derivation derivation,
        Func<int, double, double> value, ImmutableArray<CodeDefinition> codes)
    {
        MeasureColumn followUp = derivation.Done[measure.FollowUp];
        List<double>?[][] days = [.. measure.Outcomes.Select(o => UnitEvents.DaysAtRisk(o.Events, measure.FollowUp, derivation))];
        MeasureBuilder result = new(followUp.Index, "no follow-up");
        for (int row = 0; row < followUp.Index.Rows; row++)
        {
            if (followUp.Reason(row) is { } reason)
            {
                result.SetMissing(row, reason);
                continue;
            }
            double first = FollowUpTime.Span((FollowUpMeasure)followUp.Definition, followUp, row, derivation).End;
            int which = 0;
            for (int o = 0; o < days.Length; o++)
            {
                if (days[o][row] is [double day, ..] && (day < first || (which == 0 && day == first)))
                    (first, which) = (day, o + 1);
            }
            result.Set(row, value(which, first));
        }
        return result.Build(definition, codes);
    }
}
