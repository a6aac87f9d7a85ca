namespace RotationStudy.Simulation.Scenarios;

/// <summary>Dislocations as a log-linear Poisson process per knee with a gamma frailty per person, and what follows them.</summary>
/// <remarks>
/// Rate of a knee per year = base * frailty * exp(anteversion effect * (anteversion - 20) / 10 + tibial effect *
/// (torsion - 30) / 10 + laxity effect * liability + age effect * (age - 15) + female effect) * recurrence factor after the
/// first dislocation of the follow-up * operation factor after an operation. Anteversion, torsion and age are those at
/// enrolment, so the stated effects are those of the enrolment values.
/// </remarks>
public sealed record EventScenario
{
    /// <summary>Dislocations per year of a knee without prior instability: male, 15 years, anteversion 20, tibial torsion 30.</summary>
    public required double RatePerYear { get; init; }

    /// <summary>The same of a knee with prior instability.</summary>
    public required double PriorRatePerYear { get; init; }

    /// <summary>Log rate ratio per 10 degrees of femoral anteversion.</summary>
    public required double LogPer10Anteversion { get; init; }

    /// <summary>Log rate ratio per 10 degrees of tibial torsion.</summary>
    public required double LogPer10Tibial { get; init; }

    /// <summary>Log rate ratio per standard deviation of the laxity liability.</summary>
    public required double LogPerLaxity { get; init; }

    /// <summary>Log rate ratio per year of age.</summary>
    public required double LogPerYearOfAge { get; init; }

    /// <summary>Log rate ratio, female against male.</summary>
    public required double LogFemale { get; init; }

    /// <summary>Variance of the person's gamma frailty, mean one; 0 for none.</summary>
    public required double FrailtyVariance { get; init; }

    /// <summary>Factor on the rate after the first dislocation of the follow-up.</summary>
    public required double RecurrenceFactor { get; init; }

    /// <summary>Factor on the rate after an operation.</summary>
    public required double OperationFactor { get; init; }

    /// <summary>Subluxations per dislocation.</summary>
    public required double SubluxationsPerDislocation { get; init; }

    /// <summary>Probability that the first dislocation leads to an operation.</summary>
    public required double OperationAfterFirst { get; init; }

    /// <summary>Probability that each later dislocation does.</summary>
    public required double OperationAfterLater { get; init; }

    /// <summary>Shortest wait for an operation, days.</summary>
    public required double ShortestWaitDays { get; init; }

    /// <summary>Mean of the exponential wait beyond that, days.</summary>
    public required double MeanExtraWaitDays { get; init; }

    /// <summary>Share of operated knees that return to sport.</summary>
    public required double ReturnToSportShare { get; init; }
}
