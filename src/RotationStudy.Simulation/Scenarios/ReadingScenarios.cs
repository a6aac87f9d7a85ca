namespace RotationStudy.Simulation.Scenarios;

/// <summary>Joint laxity: a standard-normal liability per person, shifted by sex and age, and the components that show it.</summary>
public sealed record LaxityScenario
{
    /// <summary>Females minus males, in standard deviations of the liability.</summary>
    public required double FemaleDifference { get; init; }

    /// <summary>Change of the liability per year of age from 15.</summary>
    public required double PerYearOfAge { get; init; }

    /// <summary>Effect of the liability on true anteversion, degrees per standard deviation; 0 for none.</summary>
    public required double AnteversionPerLiability { get; init; }

    /// <summary>Log odds that a thumb reaches the forearm at liability 0.</summary>
    public required double ThumbLogOdds { get; init; }

    /// <summary>Change of those log odds per standard deviation of the liability.</summary>
    public required double ThumbLogOddsPerLiability { get; init; }

    /// <summary>Log odds that the palms reach the floor at liability 0.</summary>
    public required double TrunkLogOdds { get; init; }

    /// <summary>Change of those log odds per standard deviation of the liability.</summary>
    public required double TrunkLogOddsPerLiability { get; init; }

    /// <summary>Extension of the little finger.</summary>
    public required LaxityAngleScenario LittleFinger { get; init; }

    /// <summary>Extension of the elbow.</summary>
    public required LaxityAngleScenario Elbow { get; init; }

    /// <summary>Extension of the knee.</summary>
    public required LaxityAngleScenario Knee { get; init; }
}

/// <summary>A laxity component read in degrees, hyperextension positive.</summary>
public sealed record LaxityAngleScenario
{
    /// <summary>Mean at liability 0, degrees.</summary>
    public required double MeanDegrees { get; init; }

    /// <summary>Change per standard deviation of the liability, degrees.</summary>
    public required double PerLiability { get; init; }

    /// <summary>Standard deviation of a side of a person around that, degrees.</summary>
    public required double SideSd { get; init; }

    /// <summary>Standard deviation of a reading around the side's own value, degrees.</summary>
    public required double ReadingSd { get; init; }
}

/// <summary>What raters read at the rotational examination, prone.</summary>
public sealed record ExamScenario
{
    /// <summary>Middle of the hip rotation arc, (internal - external) / 2, at anteversion 20, degrees.</summary>
    public required double MidpointDegrees { get; init; }

    /// <summary>Change of the middle per degree of true anteversion.</summary>
    public required double MidpointPerAnteversion { get; init; }

    /// <summary>Standard deviation of a hip's middle around that, degrees.</summary>
    public required double MidpointSd { get; init; }

    /// <summary>Width of the arc, internal + external, degrees.</summary>
    public required double ArcDegrees { get; init; }

    /// <summary>Change of the width per standard deviation of laxity, degrees.</summary>
    public required double ArcPerLaxity { get; init; }

    /// <summary>Standard deviation of a hip's width around that, degrees.</summary>
    public required double ArcSd { get; init; }

    /// <summary>Standard deviation between raters, degrees: a rater's own constant error.</summary>
    public required double RaterSd { get; init; }

    /// <summary>Standard deviation of one reading, degrees.</summary>
    public required double ReadingSd { get; init; }

    /// <summary>Share of readings given to the nearest 5 degrees.</summary>
    public required double HeapingShare { get; init; }

    /// <summary>Share of hips found painful at a visit.</summary>
    public required double PainfulHipShare { get; init; }

    /// <summary>Share of hips found restricted at a visit.</summary>
    public required double RestrictedHipShare { get; init; }

    /// <summary>Share of hips not examined at a visit.</summary>
    public required double HipNotExaminedShare { get; init; }

    /// <summary>Degrees of internal rotation that a painful or restricted hip lacks.</summary>
    public required double HipFindingLossDegrees { get; init; }
}

/// <summary>What imaging reads.</summary>
public sealed record ImagingScenario
{
    /// <summary>Share of participants imaged.</summary>
    public required double ImagedShare { get; init; }

    /// <summary>Share of those imaged a second time, two years later.</summary>
    public required double RepeatedShare { get; init; }

    /// <summary>Share of images by computed tomography; the rest by magnetic resonance.</summary>
    public required double TomographyShare { get; init; }

    /// <summary>Standard deviation of a torsion reading, degrees.</summary>
    public required double ReadingSd { get; init; }

    /// <summary>Second method minus first method at anteversion 20, degrees.</summary>
    public required double OtherMethodOffset { get; init; }

    /// <summary>Mean tubercle distance of a knee without prior instability, mm.</summary>
    public required double TubercleMeanMm { get; init; }

    /// <summary>Knees with prior instability minus the others, mm.</summary>
    public required double TuberclePriorDifference { get; init; }

    /// <summary>Standard deviation of the tubercle distance, mm.</summary>
    public required double TubercleSdMm { get; init; }

    /// <summary>Mean patellar height ratio.</summary>
    public required double PatellarHeightMean { get; init; }

    /// <summary>Standard deviation of the patellar height ratio.</summary>
    public required double PatellarHeightSd { get; init; }

    /// <summary>Share of knees without prior instability whose trochlea is dysplastic.</summary>
    public required double DysplasiaShare { get; init; }

    /// <summary>The same share among knees with prior instability.</summary>
    public required double DysplasiaPriorShare { get; init; }

    /// <summary>Mean patellar tilt of a knee without prior instability, degrees.</summary>
    public required double TiltMeanDegrees { get; init; }

    /// <summary>Knees with prior instability minus the others, degrees.</summary>
    public required double TiltPriorDifference { get; init; }

    /// <summary>Standard deviation of the tilt, degrees.</summary>
    public required double TiltSdDegrees { get; init; }

    /// <summary>Share of knees without prior instability with a cartilage lesion.</summary>
    public required double CartilageShare { get; init; }

    /// <summary>The same share among knees with prior instability.</summary>
    public required double CartilagePriorShare { get; init; }

    /// <summary>Share of first dislocations of imaged participants after which the knee is imaged again, without torsion.</summary>
    public required double InjuryImageShare { get; init; }

    /// <summary>Mean of the exponential wait for that image, days.</summary>
    public required double InjuryImageMeanWaitDays { get; init; }
}

/// <summary>Function, pain and activity of a person at a visit.</summary>
public sealed record SymptomScenario
{
    /// <summary>Mean function score at anteversion 20 and tibial torsion 30 in both knees, 0 to 100.</summary>
    public required double FunctionMean { get; init; }

    /// <summary>Change per 10 degrees of anteversion, mean of both knees.</summary>
    public required double FunctionPer10Anteversion { get; init; }

    /// <summary>Change per 10 degrees of tibial torsion, mean of both knees.</summary>
    public required double FunctionPer10Tibial { get; init; }

    /// <summary>Change per standard deviation of laxity.</summary>
    public required double FunctionPerLaxity { get; init; }

    /// <summary>Change per year since enrolment.</summary>
    public required double FunctionPerYear { get; init; }

    /// <summary>Change for each dislocation within the last half year.</summary>
    public required double FunctionPerRecentDislocation { get; init; }

    /// <summary>Standard deviation between persons.</summary>
    public required double FunctionPersonSd { get; init; }

    /// <summary>Standard deviation between visits of one person.</summary>
    public required double FunctionVisitSd { get; init; }

    /// <summary>Mean pain at a function score of 80, 0 to 10.</summary>
    public required double PainMean { get; init; }

    /// <summary>Change of pain per point of function.</summary>
    public required double PainPerFunctionPoint { get; init; }

    /// <summary>Standard deviation of pain around that.</summary>
    public required double PainSd { get; init; }
}

/// <summary>Missing values and slips of the pen.</summary>
public sealed record ImperfectionScenario
{
    /// <summary>Share of readings that are not recorded (empty cell).</summary>
    public required double NotRecordedShare { get; init; }

    /// <summary>Share of readings written as not done (NA).</summary>
    public required double NotDoneShare { get; init; }

    /// <summary>Share of visits whose outcome form is missing.</summary>
    public required double MissingFormShare { get; init; }

    /// <summary>Share of body masses written without their decimal point.</summary>
    public required double LostDecimalPointShare { get; init; }

    /// <summary>Share of visits that come two to four months late.</summary>
    public required double LateVisitShare { get; init; }
}
