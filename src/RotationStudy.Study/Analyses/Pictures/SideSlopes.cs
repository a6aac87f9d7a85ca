using RotationStudy.Statistics;
using RotationStudy.Statistics.GroupComparison;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Pictures;

/// <summary>Both sides of each person: left against right, or, where events are marked, the other side against the side with the event.</summary>
internal static class SideSlopes
{
    internal static SidePairs Build(FigureDefinition figure, StudyProtocol protocol, DerivedMeasures measures)
    {
        MeasureColumn value = measures[figure.Measures[0]];
        MeasureColumn? marks = figure.Marks is { } id ? measures[id] : null;
        List<double> first = [], second = [];
        int single = 0, notCompared = 0;
        for (int person = 0; person < measures.Keys.Participants.Length; person++)
        {
            double? left = At(value, person, 0), right = At(value, person, 1);
            if (left is null != right is null)
                single++;
            if (left is not { } l || right is not { } r)
                continue;
            bool markedLeft = Marked(marks, person, 0), markedRight = Marked(marks, person, 1);
            if (marks is not null && markedLeft == markedRight)
            {
                notCompared++;
                continue;
            }
            first.Add(markedLeft ? r : l);
            second.Add(markedLeft ? l : r);
        }
        string one = protocol.Study.UnitWords?.One ?? "side";
        return new SidePairs(
            figure.Id, Labels.WithUnit(value.Definition), value.Definition.Unit,
            marks is null ? $"left {one}" : $"other {one}", marks is null ? $"right {one}" : $"{one}: {Sentences.LowerFirst(marks.Definition.Label)}",
            [.. first], [.. second], Difference(first, second), single, notCompared);
    }

    private static double? At(MeasureColumn measure, int person, int side)
        => measure.Index.Find(new RowKey(person, side, -1)) is >= 0 and int row && measure.HasValue(row) ? measure.Values[row] : null;

    private static bool Marked(MeasureColumn? marks, int person, int side)
        => marks is not null && At(marks, person, side) > 0;

    private static NumberWithInterval? Difference(List<double> first, List<double> second)
    {
        try
        {
            Estimate difference = MeanDifference.Paired(second, first).Difference;
            return new NumberWithInterval(difference.Value, difference.Interval.Lower, difference.Interval.Upper);
        }
        catch (StatisticsError)
        {
            return null;
        }
    }
}
