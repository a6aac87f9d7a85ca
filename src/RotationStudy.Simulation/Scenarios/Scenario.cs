namespace RotationStudy.Simulation.Scenarios;

/// <summary>An invented world with known truth: every number that the made-up cohort is drawn from. Read from a YAML file whose keys are these names in snake_case.</summary>
public sealed record Scenario
{
    /// <summary>Short name.</summary>
    public required string Id { get; init; }

    /// <summary>What the scenario stands for, one line.</summary>
    public required string Title { get; init; }

    /// <summary>Who takes part.</summary>
    public required CohortScenario Cohort { get; init; }

    /// <summary>Sites; their shares sum to one.</summary>
    public required IReadOnlyList<SiteScenario> Sites { get; init; }

    /// <summary>Scheduled visits in order; the first is enrolment, day 0.</summary>
    public required IReadOnlyList<VisitScenario> Visits { get; init; }

    /// <summary>How long people stay and why they leave.</summary>
    public required FollowUpScenario FollowUp { get; init; }

    /// <summary>Height, mass and skeletal maturity.</summary>
    public required BodyScenario Body { get; init; }

    /// <summary>True torsion of both bones of both knees and its change with age.</summary>
    public required TorsionScenario Torsion { get; init; }

    /// <summary>Joint laxity: a liability per person and the components that show it.</summary>
    public required LaxityScenario Laxity { get; init; }

    /// <summary>What raters read at the rotational examination.</summary>
    public required ExamScenario Exam { get; init; }

    /// <summary>What imaging reads.</summary>
    public required ImagingScenario Imaging { get; init; }

    /// <summary>Dislocations, subluxations and operations.</summary>
    public required EventScenario Events { get; init; }

    /// <summary>Function, pain and activity.</summary>
    public required SymptomScenario Symptoms { get; init; }

    /// <summary>Who was screened beside those enrolled.</summary>
    public required ScreeningScenario Screening { get; init; }

    /// <summary>How events of a knee are reported.</summary>
    public required ReportScenario Reports { get; init; }

    /// <summary>Pain out of proportion.</summary>
    public required PainSignScenario PainSigns { get; init; }

    /// <summary>The items behind a score.</summary>
    public required ItemScenario Items { get; init; }

    /// <summary>Diaries of steps, pain and training.</summary>
    public required DiaryScenario Diary { get; init; }

    /// <summary>Tracking of the patella over flexion.</summary>
    public required TrackingScenario Tracking { get; init; }

    /// <summary>Missing values and slips of the pen.</summary>
    public required ImperfectionScenario Imperfections { get; init; }
}

/// <summary>Who takes part.</summary>
public sealed record CohortScenario
{
    /// <summary>Number of participants.</summary>
    public required int Participants { get; init; }

    /// <summary>Share of girls and women, 0 to 1.</summary>
    public required double FemaleShare { get; init; }

    /// <summary>Mean age at enrolment before truncation, years.</summary>
    public required double AgeMeanYears { get; init; }

    /// <summary>Standard deviation of age before truncation, years.</summary>
    public required double AgeSdYears { get; init; }

    /// <summary>Youngest age enrolled, years.</summary>
    public required double YoungestYears { get; init; }

    /// <summary>Oldest age enrolled, years.</summary>
    public required double OldestYears { get; init; }

    /// <summary>Share of participants with a knee that was unstable before enrolment.</summary>
    public required double PriorInstabilityShare { get; init; }

    /// <summary>Share of those in whom both knees were.</summary>
    public required double PriorInBothShare { get; init; }

    /// <summary>Share of participants whom a second rater examines at the first visit.</summary>
    public required double SecondRaterShare { get; init; }
}

/// <summary>A site.</summary>
public sealed record SiteScenario
{
    /// <summary>Code of the site, a letter.</summary>
    public required string Site { get; init; }

    /// <summary>Share of participants enrolled there.</summary>
    public required double Share { get; init; }

    /// <summary>Raters who work there, two or more.</summary>
    public required IReadOnlyList<string> Raters { get; init; }

    /// <summary>Share of images there that are read by the second anteversion method.</summary>
    public required double OtherMethodShare { get; init; }
}

/// <summary>A scheduled visit.</summary>
public sealed record VisitScenario
{
    /// <summary>Code of the visit.</summary>
    public required string Visit { get; init; }

    /// <summary>Planned day since enrolment.</summary>
    public required int Day { get; init; }
}

/// <summary>How long people stay and why they leave.</summary>
public sealed record FollowUpScenario
{
    /// <summary>Shortest planned follow-up, years: that of the last person enrolled.</summary>
    public required double ShortestYears { get; init; }

    /// <summary>Longest planned follow-up, years.</summary>
    public required double LongestYears { get; init; }

    /// <summary>Rate of dropping out per year at pain 0.</summary>
    public required double DropOutPerYear { get; init; }

    /// <summary>Log rate ratio of dropping out per point of pain at the last visit.</summary>
    public required double DropOutLogPerPainPoint { get; init; }

    /// <summary>Share of scheduled visits after the first that are missed.</summary>
    public required double MissedVisitShare { get; init; }

    /// <summary>Standard deviation of a visit's day around the plan, days.</summary>
    public required double VisitDaySd { get; init; }
}

/// <summary>Height, mass and skeletal maturity.</summary>
public sealed record BodyScenario
{
    /// <summary>Mean adult height of women, cm.</summary>
    public required double FemaleHeightCm { get; init; }

    /// <summary>Mean adult height of men, cm.</summary>
    public required double MaleHeightCm { get; init; }

    /// <summary>Standard deviation of height, cm.</summary>
    public required double HeightSdCm { get; init; }

    /// <summary>Growth still to come per year before the physes close, cm.</summary>
    public required double GrowthCmPerYear { get; init; }

    /// <summary>Mean body mass index, kg per square metre.</summary>
    public required double MassIndexMean { get; init; }

    /// <summary>Standard deviation of body mass index.</summary>
    public required double MassIndexSd { get; init; }

    /// <summary>Mean age at which the physes of girls close, years.</summary>
    public required double FemaleClosureYears { get; init; }

    /// <summary>Mean age at which the physes of boys close, years.</summary>
    public required double MaleClosureYears { get; init; }

    /// <summary>Standard deviation of the age at closure, years.</summary>
    public required double ClosureSdYears { get; init; }
}

/// <summary>True torsion of both bones of both knees and its change with age. External tibial torsion is positive.</summary>
public sealed record TorsionScenario
{
    /// <summary>Mean femoral anteversion of males at the end of growth, degrees, by the first method.</summary>
    public required double AnteversionMeanDegrees { get; init; }

    /// <summary>Standard deviation between femora of one age and sex, degrees.</summary>
    public required double AnteversionSdDegrees { get; init; }

    /// <summary>Correlation of the two femora of one person.</summary>
    public required double AnteversionKneeCorrelation { get; init; }

    /// <summary>Females minus males, degrees.</summary>
    public required double AnteversionFemaleDifference { get; init; }

    /// <summary>Mean fall per year until the end of growth, degrees.</summary>
    public required double AnteversionFallPerYear { get; init; }

    /// <summary>Standard deviation of the fall between persons, degrees per year.</summary>
    public required double AnteversionFallSd { get; init; }

    /// <summary>Age after which anteversion stays, years.</summary>
    public required double GrowthEndYears { get; init; }

    /// <summary>Mean tibial torsion, degrees.</summary>
    public required double TibialMeanDegrees { get; init; }

    /// <summary>Standard deviation between tibiae, degrees.</summary>
    public required double TibialSdDegrees { get; init; }

    /// <summary>Correlation of the two tibiae of one person.</summary>
    public required double TibialKneeCorrelation { get; init; }

    /// <summary>Right minus left tibia, degrees.</summary>
    public required double TibialRightMinusLeft { get; init; }
}
