using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>What happened to participants beside the questions: flags for the clinical team, recovery, diaries, changes of scores.</summary>
/// <param name="Flags">Rows whose flag is raised, in order of participant.</param>
/// <param name="FlagCounts">How often each flag was raised, lowered, or could not be decided.</param>
/// <param name="Tables">Recovery, diary weeks and changes of scores; those that the protocol has no measures for are left out.</param>
public sealed record CourseResults(
    ImmutableArray<ClinicalFlagLine> Flags, ImmutableArray<ClinicalFlagCount> FlagCounts, ImmutableArray<ResultTable> Tables)
{
    /// <summary>Nothing declared.</summary>
    public static CourseResults None { get; } = new([], [], []);
}

/// <summary>A person shown to the clinical team. It is no diagnosis.</summary>
/// <param name="Flag">The flag in words.</param>
/// <param name="Advice">What the clinical team is asked.</param>
/// <param name="Participant">Identifier.</param>
/// <param name="Site">Site.</param>
/// <param name="Visit">Visit; empty where there is none.</param>
/// <param name="Side">Side; empty where there is none.</param>
public sealed record ClinicalFlagLine(string Flag, string Advice, string Participant, string Site, string Visit, string Side);

/// <summary>How often a flag was raised.</summary>
/// <param name="Flag">The flag in words.</param>
/// <param name="Source">Its criteria.</param>
/// <param name="Raised">Rows with all conditions.</param>
/// <param name="Lowered">Rows without one of them.</param>
/// <param name="Open">Rows in which an answer is missing that decides.</param>
public sealed record ClinicalFlagCount(string Flag, string? Source, int Raised, int Lowered, int Open);
