using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>A quantity over age or time: a line per unit, mean lines with their bands, and a published norm where the protocol has one.</summary>
/// <param name="XLabel">Horizontal axis, with unit.</param>
/// <param name="YLabel">Vertical axis, with unit.</param>
/// <param name="Singles">One line per unit, or per participant where there are no units.</param>
/// <param name="Means">Mean lines of the model, one per group; other terms at their means.</param>
/// <param name="Norm">Published norm; null for none.</param>
/// <param name="Method">How mean and band were estimated, in words.</param>
public sealed record GrowthLines(
    string XLabel, string YLabel, ImmutableArray<SingleLine> Singles, ImmutableArray<MeanLine> Means, NormBand? Norm, string Method);

/// <summary>One unit's readings in order.</summary>
/// <param name="Group">Position of its group among the mean lines.</param>
/// <param name="X">Ages or times.</param>
/// <param name="Y">Values.</param>
public sealed record SingleLine(int Group, ImmutableArray<double> X, ImmutableArray<double> Y);

/// <summary>A mean line.</summary>
/// <param name="Group">Group; empty for everybody.</param>
/// <param name="X">Grid.</param>
/// <param name="Mean">Mean.</param>
/// <param name="Lower">Lower edge of the pointwise 95% band of the mean.</param>
/// <param name="Upper">Upper edge.</param>
public sealed record MeanLine(string Group, ImmutableArray<double> X, ImmutableArray<double> Mean, ImmutableArray<double> Lower, ImmutableArray<double> Upper);

/// <summary>A published norm: steps of its rows.</summary>
/// <param name="Label">Norm and what its range is.</param>
/// <param name="Source">Publication.</param>
/// <param name="Steps">Rows by age.</param>
public sealed record NormBand(string Label, string Source, ImmutableArray<NormStep> Steps);

/// <summary>A row of a norm.</summary>
/// <param name="From">Youngest age, included.</param>
/// <param name="To">Oldest age, excluded.</param>
/// <param name="Mean">Mean.</param>
/// <param name="Lower">Lower end of its range.</param>
/// <param name="Upper">Upper end.</param>
public sealed record NormStep(double From, double To, double Mean, double Lower, double Upper);
