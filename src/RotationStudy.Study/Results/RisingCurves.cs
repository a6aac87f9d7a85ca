using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>Curves that rise from zero: cumulative incidence, mean number of events, share that has reached a milestone.</summary>
/// <param name="Title">What rises, such as the name of the event.</param>
/// <param name="ValueLabel">Label of the vertical axis, with unit.</param>
/// <param name="IsShare">Whether values are shares from 0 to 1; otherwise they are mean numbers.</param>
/// <param name="TimeLabel">Label of the time axis, with unit.</param>
/// <param name="Participants">Participants behind all curves together.</param>
/// <param name="Units">Units (knees); 0 where rows are no units.</param>
/// <param name="Method">How curves and intervals were estimated, in words.</param>
/// <param name="Curves">One curve per group.</param>
public sealed record RisingCurves(
    string Title, string ValueLabel, bool IsShare, string TimeLabel, int Participants, int Units, string Method, ImmutableArray<RisingCurve> Curves);

/// <summary>A stepped curve from zero; the value holds from its time to the next.</summary>
/// <param name="Group">Group; empty for a curve of everybody.</param>
/// <param name="End">Last time at which somebody was followed.</param>
/// <param name="Times">Times of the steps, increasing, above 0.</param>
/// <param name="Value">Value from each time on.</param>
/// <param name="Lower">Lower end of the pointwise 95% interval.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="AtRiskTimes">Times of the table below the curve.</param>
/// <param name="AtRisk">Rows still followed just before each of these times (just after time 0).</param>
/// <param name="EventsSoFar">Events up to and at each of these times.</param>
public sealed record RisingCurve(
    string Group, double End,
    ImmutableArray<double> Times, ImmutableArray<double> Value, ImmutableArray<double> Lower, ImmutableArray<double> Upper,
    ImmutableArray<double> AtRiskTimes, ImmutableArray<int> AtRisk, ImmutableArray<int> EventsSoFar)
{
    /// <summary>All events of the curve, those after the last time of the table included.</summary>
    public int Events { get; init; }
}
