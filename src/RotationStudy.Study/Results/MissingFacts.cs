using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>Which values that the plan needs are missing: by site, and in which company.</summary>
/// <param name="Groups">Sites, as columns of the map.</param>
/// <param name="Map">A line per measure and kind of row.</param>
/// <param name="Patterns">For each question, which of its measures are missing together.</param>
public sealed record MissingFacts(ImmutableArray<string> Groups, ImmutableArray<MissingLine> Map, ImmutableArray<MissingPatterns> Patterns);

/// <summary>A line of the map.</summary>
/// <param name="Measure">Measure id.</param>
/// <param name="Label">Its name.</param>
/// <param name="Rows">Rows of the measure's own level.</param>
/// <param name="Missing">Rows without a value.</param>
/// <param name="ByGroup">Share of rows without a value at each site, 0 to 1; null for a site without rows.</param>
/// <param name="Reasons">Why, by number of rows.</param>
public sealed record MissingLine(
    string Measure, string Label, int Rows, int Missing, ImmutableArray<double?> ByGroup, ImmutableArray<ReasonCount> Reasons);

/// <summary>The patterns of one question.</summary>
/// <param name="Question">Question id.</param>
/// <param name="Labels">Its measures that are missing anywhere.</param>
/// <param name="Rows">Patterns, the commonest first.</param>
/// <param name="OtherRows">Rows of patterns too rare to print one by one.</param>
public sealed record MissingPatterns(string Question, ImmutableArray<string> Labels, ImmutableArray<MissingPattern> Rows, int OtherRows);

/// <summary>A pattern.</summary>
/// <param name="Missing">For each measure, whether it is missing.</param>
/// <param name="Rows">Rows with this pattern.</param>
/// <param name="Participants">Their participants.</param>
public sealed record MissingPattern(ImmutableArray<bool> Missing, int Rows, int Participants);
