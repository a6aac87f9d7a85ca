using RotationStudy.Simulation.Course;
using RotationStudy.Simulation.Readings;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Exports;

/// <summary>One file of an export: its name, its header, and the rows of a participant.</summary>
/// <param name="File">File name.</param>
/// <param name="Header">Column names.</param>
/// <param name="Rows">Appends the rows of a participant; the streams are for slips of the pen.</param>
internal sealed record ExportTable(string File, string[] Header, Action<SimulatedCohort, SimulatedParticipant, NamedStreams, CsvText> Rows)
{
    /// <summary>The files of an export, in the order in which they are written.</summary>
    internal static IReadOnlyList<ExportTable> All { get; } =
    [
        new("participants.csv",
            ["participant_id", "site", "sex", "age_years", "maturity", "height_cm", "body_mass_kg", "last_contact_day", "end_reason", "prior_instability"],
            Participant),
        new("visits.csv", ["participant_id", "visit", "visit_day"], Visits),
        new("knee_exams.csv",
            ["participant_id", "visit", "side", "rater", "hip_finding", "hip_internal_rotation_deg", "hip_external_rotation_deg",
             "trochanteric_prominence_deg", "thigh_foot_angle_deg", "transmalleolar_axis_deg", "foot_progression_deg",
             "patellar_glide_quadrants", "apprehension", "tracking_sign"],
            KneeExams),
        new("laxity.csv",
            ["participant_id", "visit", "rater", "trunk_palms_flat", "thumb_left", "thumb_right", "little_finger_left_deg",
             "little_finger_right_deg", "elbow_left_deg", "elbow_right_deg", "knee_left_deg", "knee_right_deg"],
            Laxity),
        new("imaging.csv",
            ["participant_id", "side", "imaging_no", "imaging_day", "modality", "anteversion_method", "femoral_anteversion_deg",
             "tibial_torsion_deg", "tubercle_distance_mm", "patellar_height_ratio", "trochlear_grade", "patellar_tilt_deg", "cartilage_lesion"],
            Imaging),
        new("outcomes.csv", ["participant_id", "visit", "knee_function_score", "pain_0_10", "activity_level_0_10"], Outcomes),
        new("events.csv", ["participant_id", "side", "event_no", "event_day", "event_kind", "operation_kind"], Events),
        new("milestones.csv", ["participant_id", "side", "milestone", "milestone_day"], Milestones),
        new("knees.csv", ["participant_id", "side", "dislocated_before", "entry_day"], Knees),
        new("function_items.csv",
            ["participant_id", "visit", .. Enumerable.Range(1, ItemForms.Items).Select(i => FormattableString.Invariant($"item_{i}"))],
            Items),
        new("pain_signs.csv",
            ["participant_id", "visit", "side", "pain_out_of_proportion", "symptom_feeling", "symptom_skin", "symptom_sweat_swelling",
             "symptom_movement", "sign_feeling", "sign_skin", "sign_sweat_swelling", "sign_movement", "other_explanation"],
            PainSigns),
        new("diary.csv",
            ["participant_id", "diary_day", "steps", "pain_0_10", "training_load", "wear_hours", "planned_change"],
            DiaryDays),
        new("tracking.csv", ["participant_id", "side", "trial", "flexion_deg", "lateral_shift_mm", "tilt_deg"], Curves),
    ];

    private static void Participant(SimulatedCohort cohort, SimulatedParticipant p, NamedStreams streams, CsvText csv)
    {
        RandomDraws slips = streams.Open("slips of the pen");
        Reading mass = Reading.OrLost(p.Person.BodyMassKg, slips, cohort.Scenario.Imperfections);
        if (mass.State == ReadingState.Recorded && slips.Happens(cohort.Scenario.Imperfections.LostDecimalPointShare))
            mass = Reading.Of(Math.Round(10 * mass.Value));
        csv.Cell(p.Id).Cell(p.Person.Site.Site).Cell(p.Person.Female ? 'F' : 'M').Cell(p.Person.AgeYears).Cell(p.Person.Maturity)
            .Cell(Reading.OrLost(p.Person.HeightCm, slips, cohort.Scenario.Imperfections)).Cell(mass)
            .Cell(p.FollowUp.LastContactDay).Cell(p.FollowUp.Reason).Cell(p.Person.PriorInstability ? "yes" : "no").EndLine();
    }

    private static void Visits(SimulatedCohort cohort, SimulatedParticipant p, NamedStreams streams, CsvText csv)
    {
        foreach (AttendedVisit v in p.Visits)
            csv.Cell(p.Id).Cell(v.Visit).Cell(v.Day).EndLine();
    }

    private static void KneeExams(SimulatedCohort cohort, SimulatedParticipant p, NamedStreams streams, CsvText csv)
    {
        foreach (KneeExam e in p.KneeExams)
        {
            csv.Cell(p.Id).Cell(e.Visit).Cell(e.Side).Cell(e.Rater).Cell(e.HipFinding)
                .Cell(e.HipInternalRotation).Cell(e.HipExternalRotation).Cell(e.TrochantericProminence).Cell(e.ThighFootAngle)
                .Cell(e.TransmalleolarAxis).Cell(e.FootProgression).Cell(e.PatellarGlide).YesNo(e.Apprehension).Cell(e.TrackingSign)
                .EndLine();
        }
    }

    private static void Laxity(SimulatedCohort cohort, SimulatedParticipant p, NamedStreams streams, CsvText csv)
    {
        foreach (LaxityExam e in p.LaxityExams)
        {
            csv.Cell(p.Id).Cell(e.Visit).Cell(e.Rater).YesNo(e.Trunk).YesNo(e.Thumbs.Left).YesNo(e.Thumbs.Right)
                .Cell(e.LittleFingers.Left).Cell(e.LittleFingers.Right).Cell(e.Elbows.Left).Cell(e.Elbows.Right)
                .Cell(e.Knees.Left).Cell(e.Knees.Right).EndLine();
        }
    }

    private static void Imaging(SimulatedCohort cohort, SimulatedParticipant p, NamedStreams streams, CsvText csv)
    {
        foreach (ImagingReading i in p.Images)
        {
            csv.Cell(p.Id).Cell(i.Side).Cell(i.Number).Cell(i.Day).Cell(i.Modality).Cell(i.Method).Cell(i.Anteversion)
                .Cell(i.TibialTorsion).Cell(i.TubercleDistance).Cell(i.PatellarHeight).Cell(i.TrochlearGrade)
                .Cell(i.PatellarTilt).Cell(i.CartilageLesion).EndLine();
        }
    }

    private static void Outcomes(SimulatedCohort cohort, SimulatedParticipant p, NamedStreams streams, CsvText csv)
    {
        foreach (AttendedVisit v in p.Visits.Where(v => v.HasForm))
            csv.Cell(p.Id).Cell(v.Visit).Cell(v.Function).Cell(v.Pain).Cell(v.Activity).EndLine();
    }

    private static void Events(SimulatedCohort cohort, SimulatedParticipant p, NamedStreams streams, CsvText csv)
    {
        foreach (SimulatedKnee knee in p.Knees)
        {
            for (int i = 0; i < knee.Reports.Length; i++)
            {
                KneeEvent e = knee.Reports[i];
                csv.Cell(p.Id).Cell(knee.Side).Cell(i + 1).Cell(e.Day).Cell(e.Kind).Cell(e.OperationKind).EndLine();
            }
        }
    }

    private static void Milestones(SimulatedCohort cohort, SimulatedParticipant p, NamedStreams streams, CsvText csv)
    {
        foreach (SimulatedKnee knee in p.Knees)
        {
            foreach (Milestone m in knee.Milestones)
                csv.Cell(p.Id).Cell(knee.Side).Cell(m.Name).Cell(m.Day).EndLine();
        }
    }

    private static void Knees(SimulatedCohort cohort, SimulatedParticipant p, NamedStreams streams, CsvText csv)
    {
        foreach (SimulatedKnee knee in p.Knees)
            csv.Cell(p.Id).Cell(knee.Side).Cell(knee.PriorInstability ? "yes" : "no").Cell(knee.EntryDay).EndLine();
    }

    private static void Items(SimulatedCohort cohort, SimulatedParticipant p, NamedStreams streams, CsvText csv)
    {
        foreach (ItemForm form in p.Forms)
        {
            csv.Cell(p.Id).Cell(form.Visit);
            foreach (Reading item in form.Items)
                csv.Cell(item);
            csv.EndLine();
        }
    }

    private static void PainSigns(SimulatedCohort cohort, SimulatedParticipant p, NamedStreams streams, CsvText csv)
    {
        foreach (PainSignForm form in p.PainSigns)
        {
            csv.Cell(p.Id).Cell(form.Visit).Cell(form.Side);
            foreach (bool answer in (IEnumerable<bool>)[form.OutOfProportion, .. form.Symptoms, .. form.Signs, form.OtherExplanation])
                csv.Cell(answer ? "yes" : "no");
            csv.EndLine();
        }
    }

    private static void DiaryDays(SimulatedCohort cohort, SimulatedParticipant p, NamedStreams streams, CsvText csv)
    {
        foreach (DiaryDay d in p.Diary)
            csv.Cell(p.Id).Cell(d.Day).Cell(d.Steps).Cell(d.Pain).Cell(d.TrainingLoad).Cell(d.WearHours).Cell(d.Change).EndLine();
    }

    private static void Curves(SimulatedCohort cohort, SimulatedParticipant p, NamedStreams streams, CsvText csv)
    {
        foreach (CurveReading c in p.Curves)
            csv.Cell(p.Id).Cell(c.Side).Cell(c.Trial).Cell(c.Flexion).Cell(c.Shift).Cell(c.Tilt).EndLine();
    }
}
