using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>How the follow-up of the participants ended, and how complete it was.</summary>
/// <param name="Ends">Participants by the way their follow-up ended.</param>
/// <param name="PlannedDays">Days that everybody was to be followed at least.</param>
/// <param name="ObservedDays">Days observed within that span, summed over participants.</param>
/// <param name="PotentialDays">Days that could have been observed within it.</param>
/// <param name="Completeness">Observed over potential person-time, 0 to 1 (Clark, Altman and De Stavola 2002).</param>
/// <param name="Sentence">The same in words.</param>
public sealed record FollowUpFacts(
    ImmutableArray<ReasonCount> Ends, int PlannedDays, double ObservedDays, double PotentialDays, double Completeness, string Sentence);
