namespace RotationStudy.Study.Results;

/// <summary>How many participants a target needs, and what the planned number can do.</summary>
/// <param name="Id">Name of the target.</param>
/// <param name="Label">What is to be found or known.</param>
/// <param name="Question">Question of the plan; null for none.</param>
/// <param name="Aim">The effect or width that is asked for, in words.</param>
/// <param name="Participants">Participants needed, rounded up.</param>
/// <param name="Rows">Rows that they bring, such as knees.</param>
/// <param name="Events">Events expected among them; null where none are counted.</param>
/// <param name="DesignEffect">Factor on the variance because rows of one participant resemble each other; null where rows are participants.</param>
/// <param name="Planned">Participants that the study expects to enrol.</param>
/// <param name="PowerOfPlanned">Power of the planned number; null for widths.</param>
/// <param name="FoundByPlanned">Smallest effect that the planned number finds with the power asked for, or the width that it gives.</param>
/// <param name="Enough">Whether the planned number is enough.</param>
/// <param name="Method">The formula's source.</param>
/// <param name="Assumptions">What was assumed, in words.</param>
/// <param name="Source">Where the assumptions come from.</param>
public sealed record SampleSize(
    string Id,
    string Label,
    string? Question,
    string Aim,
    double Participants,
    double Rows,
    double? Events,
    double? DesignEffect,
    int Planned,
    double? PowerOfPlanned,
    string FoundByPlanned,
    bool Enough,
    string Method,
    string Assumptions,
    string Source);
