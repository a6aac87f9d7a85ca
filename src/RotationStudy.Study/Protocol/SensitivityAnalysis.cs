using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>The question once more with something changed, named before the data are opened.</summary>
/// <param name="Name">Name.</param>
/// <param name="Reason">Why it is wanted, a sentence.</param>
/// <param name="LeaveOut">Measures of the adjustment set that are left out.</param>
/// <param name="Keep">Another population; null for the planned one.</param>
/// <param name="When">The check whose failure it answers; null where it is read in any case.</param>
public sealed record SensitivityAnalysis(string Name, string Reason, ImmutableArray<string> LeaveOut, RowFilter? Keep, PlannedCheck? When)
{
    /// <summary>Measures that stand in for others wherever the question names them; groups may stand in for the number that they cut.</summary>
    public ImmutableArray<MeasureSwap> Replace { get; init; } = [];

    /// <summary>Adjustment terms added.</summary>
    public ImmutableArray<AdjustmentTerm> Add { get; init; } = [];

    /// <summary>Another model; null for the planned one.</summary>
    public ModelChoice? Model { get; init; }

    /// <summary>Exposures have one hazard ratio up to this time and another after it, in the time unit of the question (TimeToFirst); null for one over all the follow-up.</summary>
    public double? SplitAt { get; init; }

    /// <summary>Whether it is the planned analysis once more.</summary>
    public bool ChangesNothing
        => LeaveOut.IsEmpty && Keep is null && Replace.IsEmpty && Add.IsEmpty && Model is null && SplitAt is null;
}

/// <summary>Checks of a model that a planned analysis may answer.</summary>
public enum PlannedCheck
{
    /// <summary>Too few events for the parameters.</summary>
    EventsPerParameter,

    /// <summary>Terms that carry nearly the same information.</summary>
    Collinearity,

    /// <summary>One person who moves the estimate far.</summary>
    Influence,

    /// <summary>Hazard ratios that change with time.</summary>
    ProportionalHazards,

    /// <summary>A relation that bends.</summary>
    Linearity,

    /// <summary>Counts that vary more than their model allows.</summary>
    Overdispersion,

    /// <summary>Terms that tell events from others without exception.</summary>
    Separation,

    /// <summary>Odds ratios that differ between the cuts of an ordered outcome.</summary>
    OneOddsRatio,
}
