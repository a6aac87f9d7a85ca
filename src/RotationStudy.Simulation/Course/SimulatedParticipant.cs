using System.Collections.Immutable;
using RotationStudy.Simulation.Readings;
using RotationStudy.Simulation.Scenarios;

namespace RotationStudy.Simulation.Course;

/// <summary>One made-up person: the truth, and what the clinic recorded of it.</summary>
/// <param name="Id">Identifier as exports write it.</param>
/// <param name="Person">What belongs to the person.</param>
/// <param name="Knees">Left, then right.</param>
/// <param name="FollowUp">When and why the follow-up ended.</param>
/// <param name="Visits">Visits that took place, in order.</param>
/// <param name="KneeExams">Rows of the knee examinations.</param>
/// <param name="LaxityExams">Rows of the laxity components.</param>
/// <param name="Images">Rows of the imaging.</param>
/// <param name="Forms">Item forms, one for each outcome form that came back.</param>
/// <param name="PainSigns">Forms on pain out of proportion.</param>
/// <param name="Diary">Days of the diary; empty for most.</param>
/// <param name="Curves">Readings of the tracking curves; empty for most.</param>
public sealed record SimulatedParticipant(
    string Id,
    PersonFactors Person,
    ImmutableArray<SimulatedKnee> Knees,
    EndOfFollowUp FollowUp,
    ImmutableArray<AttendedVisit> Visits,
    ImmutableArray<KneeExam> KneeExams,
    ImmutableArray<LaxityExam> LaxityExams,
    ImmutableArray<ImagingReading> Images,
    ImmutableArray<ItemForm> Forms,
    ImmutableArray<PainSignForm> PainSigns,
    ImmutableArray<DiaryDay> Diary,
    ImmutableArray<CurveReading> Curves);

/// <summary>What belongs to the person.</summary>
/// <param name="Site">Site.</param>
/// <param name="Female">Girl or woman.</param>
/// <param name="AgeYears">Age at enrolment, one decimal.</param>
/// <param name="Maturity">open, closing or closed physes.</param>
/// <param name="HeightCm">Height, cm.</param>
/// <param name="BodyMassKg">Body mass, kg.</param>
/// <param name="PriorInstability">Whether a knee was unstable before.</param>
/// <param name="LaxityLiability">Laxity in standard deviations.</param>
/// <param name="Frailty">Factor on the event rate of both knees.</param>
public sealed record PersonFactors(
    SiteScenario Site, bool Female, double AgeYears, string Maturity, double HeightCm, double BodyMassKg,
    bool PriorInstability, double LaxityLiability, double Frailty);

/// <summary>The truth of one knee, and what happened to it within the follow-up.</summary>
/// <param name="Side">L or R.</param>
/// <param name="PriorInstability">Whether this knee was unstable before.</param>
/// <param name="Torsion">True torsion of its bones.</param>
/// <param name="RatePerYear">Dislocations per year at enrolment, before any event of the follow-up.</param>
/// <param name="Events">Events in order of day.</param>
/// <param name="Milestones">Milestones of recovery after the first operation, in order of day.</param>
/// <param name="EntryDay">Day from which on its events are collected; 0 for enrolment.</param>
/// <param name="Reports">Events as reported, in order of day: none before the day of entry, some twice.</param>
public sealed record SimulatedKnee(
    char Side, bool PriorInstability, TrueTorsion Torsion, double RatePerYear,
    ImmutableArray<KneeEvent> Events, ImmutableArray<Milestone> Milestones, int EntryDay, ImmutableArray<KneeEvent> Reports);

/// <summary>True torsion of a knee's bones, degrees.</summary>
/// <param name="AnteversionAtEnrolment">Femoral anteversion at enrolment by the first method.</param>
/// <param name="FallPerYear">Its fall per year.</param>
/// <param name="YearsOfFall">Years of growth left at enrolment.</param>
/// <param name="Tibial">Tibial torsion, external positive.</param>
public sealed record TrueTorsion(double AnteversionAtEnrolment, double FallPerYear, double YearsOfFall, double Tibial)
{
    /// <summary>Anteversion on a day since enrolment.</summary>
    public double AnteversionOn(int day) => AnteversionAtEnrolment - (FallPerYear * Math.Min(day / 365.25, YearsOfFall));
}

/// <summary>Something that happened to a knee.</summary>
/// <param name="Day">Day since enrolment.</param>
/// <param name="Kind">dislocation, subluxation or operation.</param>
/// <param name="OperationKind">Kind of operation; none for the others.</param>
public sealed record KneeEvent(int Day, string Kind, string OperationKind);

/// <summary>A milestone of recovery.</summary>
/// <param name="Name">Which.</param>
/// <param name="Day">Day since enrolment.</param>
public sealed record Milestone(string Name, int Day);

/// <summary>When and why the follow-up ended.</summary>
/// <param name="LastContactDay">Day since enrolment.</param>
/// <param name="Reason">study_end, withdrawn, lost or moved.</param>
public sealed record EndOfFollowUp(int LastContactDay, string Reason);

/// <summary>A visit that took place.</summary>
/// <param name="Visit">Code of the visit.</param>
/// <param name="Day">Day since enrolment.</param>
/// <param name="Function">Function score, or why not.</param>
/// <param name="Pain">Pain, or why not.</param>
/// <param name="Activity">Activity level, or why not.</param>
/// <param name="HasForm">Whether the outcome form came back.</param>
public sealed record AttendedVisit(string Visit, int Day, Reading Function, Reading Pain, Reading Activity, bool HasForm);
