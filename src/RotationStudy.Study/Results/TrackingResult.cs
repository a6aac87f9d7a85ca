using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>A quantity over an arc, such as patellar shift over flexion: mean curves of groups with bands, and where they differ.</summary>
/// <param name="Question">Question id.</param>
/// <param name="ArcLabel">Label of the horizontal axis, with unit.</param>
/// <param name="ValueLabel">Label of the vertical axis, with unit.</param>
/// <param name="Counts">How much it rests on.</param>
/// <param name="Arc">Grid of the arc, increasing; all curves lie on it.</param>
/// <param name="Groups">Mean curves, one per group.</param>
/// <param name="Difference">Difference of the first two groups; null where there is one group.</param>
/// <param name="Method">How curves and bands were estimated, in words.</param>
public sealed record TrackingResult(
    string Question, string ArcLabel, string ValueLabel, AnalysisCounts Counts,
    ImmutableArray<double> Arc, ImmutableArray<TrackingGroup> Groups, TrackingDifference? Difference, string Method);

/// <summary>The mean curve of a group.</summary>
/// <param name="Name">Group.</param>
/// <param name="Participants">Participants.</param>
/// <param name="Units">Units (knees); 0 where rows are no units.</param>
/// <param name="Mean">Mean at each point of the arc.</param>
/// <param name="Lower">Lower edge of the simultaneous 95% band.</param>
/// <param name="Upper">Upper edge.</param>
/// <param name="Singles">Curves of single units on the same grid, drawn faint; empty for none.</param>
public sealed record TrackingGroup(
    string Name, int Participants, int Units,
    ImmutableArray<double> Mean, ImmutableArray<double> Lower, ImmutableArray<double> Upper,
    ImmutableArray<ImmutableArray<double>> Singles);

/// <summary>The difference of two groups over the arc.</summary>
/// <param name="Label">What it is, such as "dislocating minus normal".</param>
/// <param name="Mean">Difference at each point of the arc.</param>
/// <param name="Lower">Lower edge of the simultaneous 95% band.</param>
/// <param name="Upper">Upper edge.</param>
/// <param name="PValue">Permutation p value of no difference anywhere (largest statistic over the arc).</param>
/// <param name="Apart">Stretches of the arc where the permutation test finds a difference, whole-arc error held.</param>
public sealed record TrackingDifference(
    string Label, ImmutableArray<double> Mean, ImmutableArray<double> Lower, ImmutableArray<double> Upper,
    double PValue, ImmutableArray<ArcStretch> Apart);

/// <summary>A stretch of an arc.</summary>
/// <param name="From">Its start.</param>
/// <param name="To">Its end.</param>
public sealed record ArcStretch(double From, double To);
