using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>What figures of measures draw, which no question holds; each part names its figure.</summary>
/// <param name="Pairs">Two measures against each other.</param>
/// <param name="Sides">Both sides of each participant.</param>
/// <param name="Digits">Last digits of readings by rater.</param>
/// <param name="Scores">How often each value of a score occurs.</param>
/// <param name="Diaries">Weeks of diaries.</param>
/// <param name="Milestones">Shares that have reached milestones.</param>
public sealed record FigureValues(
    ImmutableArray<MeasurePair> Pairs,
    ImmutableArray<SidePairs> Sides,
    ImmutableArray<DigitCounts> Digits,
    ImmutableArray<ScoreCounts> Scores,
    ImmutableArray<DiaryWeeksDrawn> Diaries,
    ImmutableArray<MilestoneCurves> Milestones)
{
    /// <summary>Nothing to draw.</summary>
    public static FigureValues None { get; } = new([], [], [], [], [], []);
}

/// <summary>Two measures against each other, a point per row.</summary>
/// <param name="Figure">Figure id.</param>
/// <param name="XLabel">First measure, with unit.</param>
/// <param name="YLabel">Second measure, with unit.</param>
/// <param name="MarkLabel">What a marked point has, such as "dislocated during follow-up"; null for no marks.</param>
/// <param name="GroupLabel">Measure that splits the points into panels; null for one panel.</param>
/// <param name="Groups">Names of the groups; one of no name where there is one panel.</param>
/// <param name="Points">Points, by participant.</param>
/// <param name="Lines">A straight line per group with its band, in the order of the groups; empty where none was asked for.</param>
/// <param name="LeftOut">Rows without one of the values.</param>
/// <param name="Method">How lines and bands were estimated; empty without lines.</param>
public sealed record MeasurePair(
    string Figure, string XLabel, string YLabel, string? MarkLabel, string? GroupLabel, ImmutableArray<string> Groups,
    ImmutableArray<PairPoint> Points, ImmutableArray<PairLine> Lines, int LeftOut, string Method);

/// <summary>A point.</summary>
/// <param name="Person">Running number of the participant within the figure; no identifier.</param>
/// <param name="Side">0 left, 1 right, -1 none.</param>
/// <param name="Group">Position of its group.</param>
/// <param name="X">First measure.</param>
/// <param name="Y">Second measure.</param>
/// <param name="Marked">Whether the row is marked.</param>
public sealed record PairPoint(int Person, int Side, int Group, double X, double Y, bool Marked);

/// <summary>A line through the points of a group.</summary>
/// <param name="X">Grid.</param>
/// <param name="Mean">Mean.</param>
/// <param name="Lower">Lower edge of the pointwise 95% band.</param>
/// <param name="Upper">Upper edge.</param>
/// <param name="Slope">Slope with its interval; null where the group is too small for a line.</param>
public sealed record PairLine(
    ImmutableArray<double> X, ImmutableArray<double> Mean, ImmutableArray<double> Lower, ImmutableArray<double> Upper, NumberWithInterval? Slope);

/// <summary>Both sides of each participant, a slope from one to the other.</summary>
/// <param name="Figure">Figure id.</param>
/// <param name="Label">Measure, with unit.</param>
/// <param name="Unit">Unit; null for none.</param>
/// <param name="FirstName">What stands on the left of the chart, such as "left", or the side without the mark.</param>
/// <param name="SecondName">What stands on the right.</param>
/// <param name="First">Values on the left, one per participant.</param>
/// <param name="Second">Values on the right, in the same order.</param>
/// <param name="Difference">Mean of second minus first with its interval; null where there are too few.</param>
/// <param name="OneSideOnly">Participants with a value of one side only, who are not drawn.</param>
/// <param name="NotCompared">Participants of whom both sides or neither are marked, who are not drawn; 0 without marks.</param>
public sealed record SidePairs(
    string Figure, string Label, string? Unit, string FirstName, string SecondName,
    ImmutableArray<double> First, ImmutableArray<double> Second, NumberWithInterval? Difference, int OneSideOnly, int NotCompared);

/// <summary>Last digits of readings by rater; rounding shows as heaps at 0 and 5.</summary>
/// <param name="Figure">Figure id.</param>
/// <param name="Label">What was read, with unit.</param>
/// <param name="Raters">One line per rater.</param>
public sealed record DigitCounts(string Figure, string Label, ImmutableArray<RaterDigits> Raters);

/// <summary>Last digits of one rater.</summary>
/// <param name="Rater">Rater.</param>
/// <param name="Counts">Readings that end in 0 to 9.</param>
public sealed record RaterDigits(string Rater, ImmutableArray<int> Counts);

/// <summary>How often each value of a score occurs, under one or several definitions.</summary>
/// <param name="Figure">Figure id.</param>
/// <param name="Definitions">One per measure.</param>
public sealed record ScoreCounts(string Figure, ImmutableArray<ScoreDistribution> Definitions);

/// <summary>A score under one definition.</summary>
/// <param name="Label">Definition.</param>
/// <param name="Values">Values, increasing.</param>
/// <param name="Participants">Participants with each value.</param>
/// <param name="Without">Participants without a value.</param>
/// <param name="Mean">Mean; null without values.</param>
public sealed record ScoreDistribution(string Label, ImmutableArray<double> Values, ImmutableArray<int> Participants, int Without, double? Mean);

/// <summary>Weeks of diaries, a strip per participant.</summary>
/// <param name="Figure">Figure id.</param>
/// <param name="Measures">What is drawn, one block below the other.</param>
public sealed record DiaryWeeksDrawn(string Figure, ImmutableArray<DiaryStrips> Measures);

/// <summary>One measure of the weeks.</summary>
/// <param name="Label">Measure, with unit.</param>
/// <param name="Strips">Participants in the same order for all measures of a figure.</param>
public sealed record DiaryStrips(string Label, ImmutableArray<DiaryStrip> Strips);

/// <summary>The weeks of one participant.</summary>
/// <param name="FirstWeek">Week of the first value, from 1.</param>
/// <param name="Weeks">Value per week; null where the week does not count.</param>
public sealed record DiaryStrip(int FirstWeek, ImmutableArray<double?> Weeks);

/// <summary>Milestones of a figure.</summary>
/// <param name="Figure">Figure id.</param>
/// <param name="Curves">A curve per milestone.</param>
public sealed record MilestoneCurves(string Figure, RisingCurves Curves);
