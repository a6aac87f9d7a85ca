using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>How a cohort reads under each definition of a score and each cut-off of the protocol; never pooled.</summary>
/// <param name="Lines">One line per cut-off.</param>
/// <param name="Pairs">Each two cut-offs side by side: who reads differently.</param>
public sealed record ScoreReadings(ImmutableArray<ScoreReadingLine> Lines, ImmutableArray<ScoreReadingPair> Pairs);

/// <summary>A cohort under one definition and cut-off.</summary>
/// <param name="Measure">Id of the cut-off.</param>
/// <param name="Label">Its label.</param>
/// <param name="Score">Label of the score.</param>
/// <param name="Criteria">When each component counts, with greater or at least as chosen.</param>
/// <param name="CutOff">The cut-offs by age.</param>
/// <param name="Reached">Participants at or above the cut-off.</param>
/// <param name="Below">Participants below it.</param>
/// <param name="CannotTell">Participants whose missing components leave it open.</param>
/// <param name="NotRead">Participants without a score, an age or a cut-off for their age.</param>
public sealed record ScoreReadingLine(
    string Measure, string Label, string Score, string Criteria, string CutOff, int Reached, int Below, int CannotTell, int NotRead);

/// <summary>Two definitions side by side, among participants who can be read under both.</summary>
/// <param name="First">Label of the first cut-off.</param>
/// <param name="Second">Label of the second.</param>
/// <param name="Both">Reached under both.</param>
/// <param name="FirstOnly">Reached under the first only.</param>
/// <param name="SecondOnly">Reached under the second only.</param>
/// <param name="Neither">Below under both.</param>
public sealed record ScoreReadingPair(string First, string Second, int Both, int FirstOnly, int SecondOnly, int Neither);
