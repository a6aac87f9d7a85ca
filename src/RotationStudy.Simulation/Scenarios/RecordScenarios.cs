namespace RotationStudy.Simulation.Scenarios;

/// <summary>Who was screened beside those enrolled. The log holds no participant's identifier and its order tells none.</summary>
public sealed record ScreeningScenario
{
    /// <summary>People screened and not enrolled, per participant enrolled.</summary>
    public required double NotEnrolledPerParticipant { get; init; }

    /// <summary>Why, with shares that sum to one.</summary>
    public required IReadOnlyList<ReasonScenario> Reasons { get; init; }
}

/// <summary>A reason for not being enrolled.</summary>
public sealed record ReasonScenario
{
    /// <summary>Code of the reason.</summary>
    public required string Reason { get; init; }

    /// <summary>Share among those not enrolled.</summary>
    public required double Share { get; init; }
}

/// <summary>How events of a knee are reported: from when on, and how often twice.</summary>
public sealed record ReportScenario
{
    /// <summary>Share of stable knees whose events are collected from a day after enrolment on.</summary>
    public required double LateEntryShare { get; init; }

    /// <summary>Earliest such day.</summary>
    public required double LateEntryEarliestDays { get; init; }

    /// <summary>Latest such day.</summary>
    public required double LateEntryLatestDays { get; init; }

    /// <summary>Share of dislocations reported a second time, by another department.</summary>
    public required double SecondReportShare { get; init; }

    /// <summary>Longest wait for the second report, days.</summary>
    public required double SecondReportLatestDays { get; init; }
}

/// <summary>Pain out of proportion: how often it follows, and when the form about it is filled in.</summary>
public sealed record PainSignScenario
{
    /// <summary>Share of operated knees that develop it.</summary>
    public required double AfterOperationShare { get; init; }

    /// <summary>Share of knees that develop it after a first dislocation without an operation.</summary>
    public required double AfterDislocationShare { get; init; }

    /// <summary>Days after the event within which visits show it.</summary>
    public required double ShownForDays { get; init; }

    /// <summary>Pain, 0 to 10, from which the form is filled in at a visit.</summary>
    public required double AskedFromPain { get; init; }

    /// <summary>Probability of each symptom and sign where it is present.</summary>
    public required double PresentShare { get; init; }

    /// <summary>Probability of each symptom and sign where it is not.</summary>
    public required double AbsentShare { get; init; }

    /// <summary>Share of forms with another explanation of the pain.</summary>
    public required double OtherExplanationShare { get; init; }
}

/// <summary>The items behind a score of activities, eight of 0 to 4 points; the invented form has no text.</summary>
public sealed record ItemScenario
{
    /// <summary>Standard deviation of an item around the function score on the item's scale, points.</summary>
    public required double ItemSd { get; init; }

    /// <summary>Share of items left empty.</summary>
    public required double EmptyShare { get; init; }

    /// <summary>Share of forms on which half the items or more are empty.</summary>
    public required double HalfEmptyShare { get; init; }
}

/// <summary>Diaries of steps, pain and training.</summary>
public sealed record DiaryScenario
{
    /// <summary>Share of participants who keep one.</summary>
    public required double KeptShare { get; init; }

    /// <summary>Weeks of the diary.</summary>
    public required int Weeks { get; init; }

    /// <summary>Mean steps on a day fully worn.</summary>
    public required double StepsMean { get; init; }

    /// <summary>Standard deviation of steps between persons.</summary>
    public required double StepsPersonSd { get; init; }

    /// <summary>Standard deviation of steps between days of one person.</summary>
    public required double StepsDaySd { get; init; }

    /// <summary>Mean hours that the step counter is worn.</summary>
    public required double WearHoursMean { get; init; }

    /// <summary>Standard deviation of those hours.</summary>
    public required double WearHoursSd { get; init; }

    /// <summary>Share of days on which it is taken off early.</summary>
    public required double TakenOffShare { get; init; }

    /// <summary>Share of days without an entry.</summary>
    public required double MissingDayShare { get; init; }

    /// <summary>Share of weeks without any entry.</summary>
    public required double MissingWeekShare { get; init; }

    /// <summary>Share of days with training.</summary>
    public required double TrainingDayShare { get; init; }

    /// <summary>Mean load of a training at the start: minutes times effort from 1 to 10.</summary>
    public required double LoadMean { get; init; }

    /// <summary>Standard deviation of a person's level of load from week to week, as a share of the level.</summary>
    public required double LoadWeekSd { get; init; }

    /// <summary>Days between two planned changes of training.</summary>
    public required double ChangeEveryDays { get; init; }

    /// <summary>Share by which a change raises the load.</summary>
    public required double ChangeLoadShare { get; init; }

    /// <summary>Share of changes that are followed by another within the same week.</summary>
    public required double SeveralAtOnceShare { get; init; }

    /// <summary>Mean pain, 0 to 10.</summary>
    public required double PainMean { get; init; }

    /// <summary>Standard deviation of pain between persons.</summary>
    public required double PainPersonSd { get; init; }

    /// <summary>Standard deviation of pain between days of one person.</summary>
    public required double PainDaySd { get; init; }

    /// <summary>Change of pain per 100 more in last week's mean daily load, within a person.</summary>
    public required double PainPer100LoadLastWeek { get; init; }
}

/// <summary>Tracking of the patella over flexion: curves of lateral shift and tilt.</summary>
/// <remarks>Shift at an angle = lasting shift + extra at extension * exp(-angle / scale); the extra is larger in knees unstable before enrolment and grows with anteversion.</remarks>
public sealed record TrackingScenario
{
    /// <summary>Share of participants whose knees are recorded.</summary>
    public required double RecordedShare { get; init; }

    /// <summary>Trials of each knee.</summary>
    public required int Trials { get; init; }

    /// <summary>Mean lasting lateral shift, mm.</summary>
    public required double ShiftMeanMm { get; init; }

    /// <summary>Mean extra shift of a stable knee at extension, mm.</summary>
    public required double ExtensionShiftMm { get; init; }

    /// <summary>Knees unstable before enrolment minus the others, at extension, mm.</summary>
    public required double ExtensionShiftPriorMm { get; init; }

    /// <summary>Change of the extra shift per 10 degrees of anteversion, mm.</summary>
    public required double ExtensionShiftPer10Anteversion { get; init; }

    /// <summary>Flexion over which the extra shift falls to 37%, degrees.</summary>
    public required double ScaleDegrees { get; init; }

    /// <summary>Standard deviation between knees, mm.</summary>
    public required double KneeSdMm { get; init; }

    /// <summary>Standard deviation between trials of a knee, mm.</summary>
    public required double TrialSdMm { get; init; }

    /// <summary>Standard deviation of one reading, mm.</summary>
    public required double ReadingSdMm { get; init; }

    /// <summary>Mean tilt of a patella without extra shift, degrees.</summary>
    public required double TiltMeanDegrees { get; init; }

    /// <summary>Tilt per mm of shift, degrees.</summary>
    public required double TiltPerMm { get; init; }

    /// <summary>Standard deviation of the tilt of one reading, degrees.</summary>
    public required double TiltReadingSdDegrees { get; init; }
}
