namespace RotationStudy.Simulation.Faults;

/// <summary>Damage that shows only when columns, sides, visits, raters or tables are compared.</summary>
internal static class CourseWays
{
    private const string Exams = "knee_exams.csv";
    private const string Roster = "participants.csv";
    private const string Images = "imaging.csv";
    private const string Events = "events.csv";
    private const string Steps = "milestones.csv";
    private const string Inward = "hip_internal_rotation_deg";
    private const string Outward = "hip_external_rotation_deg";

    internal static IEnumerable<FaultWay> All =>
    [
        new("hip_arc_too_wide", "Both hip rotations are read far too wide.", ["hip_arc"], null, d => Pair(d, "88", "82")),
        new("hip_arc_too_narrow", "Both hip rotations are read far too narrow.", ["hip_arc"], null, d => Pair(d, "12", "10")),
        new("shin_against_shin", "The two measures of the shin contradict each other.", ["foot_axes", "profile_outlier"], null, Shin),
        new("height_for_mass", "Height and body mass are exchanged.", ["range.plausible", "range.possible", "body_mass_for_height"], null, HeightForMass),
        new("mass_of_a_small_child", "A body mass does not fit the height.", ["body_mass_for_height"], null, d => d.Set(Roster, "body_mass_kg", _ => "24", (f, r) => f.Get(r, "height_cm") is not ("" or "NA") && CellWays.Number(f.Get(r, "height_cm")) > 155)),
        new("plates_closed_too_young", "Growth plates are closed in a child.", ["closed_plates_young"], null, d => d.Set(Roster, "maturity", _ => "closed", (f, r) => CellWays.Number(f.Get(r, "age_years")) < 11.5)),
        new("plates_open_too_old", "Growth plates are open in an adult.", ["open_plates_old"], null, d => d.Set(Roster, "maturity", _ => "open", (f, r) => CellWays.Number(f.Get(r, "age_years")) > 19.5)),
        new("operation_without_kind", "An operation has no kind.", ["operation_named"], null, d => d.Set(Events, "operation_kind", _ => "none", (f, r) => f.Get(r, "event_kind") == "operation")),
        new("dislocation_with_operation", "A dislocation names an operation.", ["operation_not_meant"], null, d => d.Set(Events, "operation_kind", _ => "derotation", (f, r) => f.Get(r, "event_kind") == "dislocation")),
        new("screening_without_reason", "A person was not enrolled and nobody says why.", ["screening_reason"], null, d => d.Set("screening.csv", "reason", _ => string.Empty, (f, r) => f.Get(r, "outcome") == "not_enrolled")),
        new("laxity_sign", "An elbow far from the other one, as after a wrong sign.", ["laxity_outlier"], null, d => d.Set("laxity.csv", "elbow_left_deg", _ => "-20", OtherElbowLax)),
        new("images_do_not_fit", "Angles of an image far from everybody's.", ["image_outlier"], null, ImageOutlier),
        new("profile_does_not_fit", "Measures of one examination do not fit each other.", ["profile_outlier"], null, Profile),
        new("visit_outside_window", "A visit is dated outside its window.", ["visit.window"], null, d => d.Set("visits.csv", "visit_day", _ => "262", (f, r) => r.Cells[1] == "month_6")),
        new("visit_days_exchanged", "The days of two visits are exchanged.", ["visits_in_order"], null, VisitsExchanged),
        new("torsion_moves", "A measure of torsion moves 45 degrees in half a year.", ["torsion_jump", "foot_axes", "profile_outlier"], null, d => Jump(d, "transmalleolar_axis_deg", 45)),
        new("hip_rotation_moves", "Hip rotation moves 50 degrees in half a year.", ["rotation_jump", "hip_arc", "profile_outlier"], null, d => Jump(d, Inward, 50)),
        new("score_upside_down", "A score is entered upside down.", ["function_jump"], null, d => d.Set("outcomes.csv", "knee_function_score", v => CellWays.Text(100 - CellWays.Number(v)), (f, r) => r.Cells[1] == "month_6" && f.Get(r, "knee_function_score") is not ("" or "NA") && CellWays.Number(f.Get(r, "knee_function_score")) > 85 && HighBefore(f, r))),
        new("event_days_exchanged", "The days of two events of a knee are exchanged.", ["events_in_order"], null, EventsExchanged),
        new("event_after_last_contact", "An event is dated after the last contact.", ["day.after_last_contact"], null, d => d.Set(Events, "event_day", _ => "2900")),
        new("event_before_enrolment", "An event is dated before enrolment.", ["day.before_enrolment"], null, d => d.Set(Events, "event_day", v => "-" + v)),
        new("contact_too_early", "The last contact is dated before later visits.", ["day.after_last_contact"], null, d => d.Set(Roster, "last_contact_day", _ => "20", (f, r) => CellWays.Number(f.Get(r, "last_contact_day")) > 400)),
        new("milestone_before_operation", "A milestone is dated before the operation.", ["milestone_after_operation"], null, d => d.Set(Steps, "milestone_day", _ => "1", (f, r) => r.Cells[2] == "weight_bearing")),
        new("milestone_of_the_other_side", "A milestone is entered for the other side.", ["milestone_after_operation"], null, d => d.Set(Steps, "side", v => v == "L" ? "R" : "L", (f, r) => !Operated(d, r.Participant, r.Cells[1] == "L" ? "R" : "L") && d.RowsOf(Steps, r.Participant).Length < 5)),
        new("milestones_exchanged", "The days of two milestones are exchanged.", ["walking_after_weight", "hopping_after_walking", "sport_after_hopping"], null, StepsExchanged),
        new("operation_not_sent", "The operation before the milestones is not sent.", ["milestone_after_operation"], null, OperationOut),
        new("history_denied", "The roster denies a dislocation that a knee had.", ["prior_knee_contradicts"], null, d => d.Set(Roster, "prior_instability", _ => "no", (f, r) => f.Get(r, "prior_instability") == "yes" && d.RowsOf("knees.csv", r.Participant).Any(k => k.Cells[2] == "yes"))),
        new("history_without_knee", "Neither knee had the dislocation of the history.", ["prior_knee_missing"], null, NoPriorKnee),
        new("raters_far_apart", "One of two raters reads 45 degrees away from the other.", ["raters_differ", "hip_arc", "profile_outlier"], null, RatersApart),
        new("rater_rounds", "A rater rounds all readings of hyperextension to fives.", ["heaped_hyperextension"], null, Rounds),
    ];

    private static bool HighBefore(ExportFileText f, ExportRow row)
        => f.Of(row.Participant).Any(r => r.Cells[1] == "baseline"
            && f.Get(r, "knee_function_score") is not ("" or "NA") && CellWays.Number(f.Get(r, "knee_function_score")) > 80);

    private static bool Operated(Damage d, string participant, string side)
        => d.RowsOf(Events, participant).Any(r => r.Cells[1] == side && r.Cells[4] == "operation");

    private static bool OtherElbowLax(ExportFileText f, ExportRow row)
        => f.Get(row, "knee_left_deg") is not ("" or "NA") && f.Get(row, "knee_right_deg") is not ("" or "NA")
            && f.Get(row, "elbow_right_deg") is not ("" or "NA") && CellWays.Number(f.Get(row, "elbow_right_deg")) >= 8;

    private static Planted? RatersApart(Damage d)
    {
        if (d.Pick(Exams, (f, r) => f.Get(r, Inward) is not ("" or "NA") && OtherRater(d, f, r) is not null) is not { } row)
            return null;
        double other = CellWays.Number(d.Export[Exams].Get(OtherRater(d, d.Export[Exams], row)!, Inward));
        return d.SetIn(Exams, row, Inward, CellWays.Text(other > 50 ? other - 45 : other + 45));
    }

    private static ExportRow? OtherRater(Damage d, ExportFileText f, ExportRow row)
        => d.RowsOf(Exams, row.Participant).FirstOrDefault(r => r != row && r.Cells[1] == row.Cells[1] && r.Cells[2] == row.Cells[2]
            && f.Get(r, Inward) is not ("" or "NA"));

    private static Planted? Pair(Damage d, string inward, string outward)
    {
        if (d.Pick(Exams, (f, r) => f.Get(r, Outward) is not ("" or "NA")) is not { } row)
            return null;
        d.SetIn(Exams, row, Outward, outward);
        return d.SetIn(Exams, row, Inward, inward);
    }

    private static Planted? Shin(Damage d)
    {
        if (d.Pick(Exams, (f, r) => f.Get(r, "thigh_foot_angle_deg") is not ("" or "NA") && CellWays.Number(f.Get(r, "thigh_foot_angle_deg")) < 5) is not { } row)
            return null;
        return d.SetIn(Exams, row, "transmalleolar_axis_deg", CellWays.Text(CellWays.Number(d.Export[Exams].Get(row, "thigh_foot_angle_deg")) + 52));
    }

    private static Planted? HeightForMass(Damage d)
    {
        if (d.Pick(Roster, (f, r) => f.Get(r, "height_cm") is not ("" or "NA") && f.Get(r, "body_mass_kg") is not ("" or "NA")) is not { } row)
            return null;
        string height = d.Export[Roster].Get(row, "height_cm");
        string mass = d.Export[Roster].Get(row, "body_mass_kg");
        d.SetIn(Roster, row, "body_mass_kg", height);
        return d.SetIn(Roster, row, "height_cm", mass);
    }

    private static Planted? ImageOutlier(Damage d)
    {
        string[] columns = ["femoral_anteversion_deg", "tibial_torsion_deg", "tubercle_distance_mm", "patellar_height_ratio"];
        if (d.Pick(Images, (f, r) => columns.All(c => f.Get(r, c) is not ("" or "NA"))) is not { } row)
            return null;
        d.SetIn(Images, row, "patellar_height_ratio", "1.9");
        d.SetIn(Images, row, "tubercle_distance_mm", "33");
        return d.SetIn(Images, row, "femoral_anteversion_deg", "-14");
    }

    private static Planted? Profile(Damage d)
    {
        string[] columns = [Inward, Outward, "trochanteric_prominence_deg", "thigh_foot_angle_deg", "transmalleolar_axis_deg"];
        if (d.Pick(Exams, (f, r) => columns.All(c => f.Get(r, c) is not ("" or "NA"))) is not { } row)
            return null;
        d.SetIn(Exams, row, Inward, "20");
        d.SetIn(Exams, row, Outward, "70");
        return d.SetIn(Exams, row, "trochanteric_prominence_deg", "58");
    }

    private static Planted? VisitsExchanged(Damage d)
    {
        if (d.Pick("visits.csv", (f, r) => r.Cells[1] == "month_6" && d.RowsOf("visits.csv", r.Participant).Any(o => o.Cells[1] == "month_12")) is not { } row)
            return null;
        ExportRow later = d.RowsOf("visits.csv", row.Participant).First(o => o.Cells[1] == "month_12");
        return Exchange(d, "visits.csv", row, later, "visit_day");
    }

    private static Planted Exchange(Damage d, string file, ExportRow row, ExportRow other, string column)
    {
        string first = d.Export[file].Get(row, column);
        string second = d.Export[file].Get(other, column);
        d.SetIn(file, other, column, first);
        return d.SetIn(file, row, column, second) with { Rows = [row, other] };
    }

    private static Planted? Jump(Damage d, string column, double by)
        => d.Set(Exams, column, v => CellWays.Text(CellWays.Number(v) > 45 ? CellWays.Number(v) - by : CellWays.Number(v) + by), (f, r) => r.Cells[1] == "month_6"
            && d.RowsOf(Exams, r.Participant).Any(o => o.Cells[1] == "baseline" && o.Cells[2] == r.Cells[2] && o.Cells[3] == r.Cells[3]
                && f.Get(o, column) is not ("" or "NA") && Math.Abs(CellWays.Number(f.Get(o, column)) - CellWays.Number(f.Get(r, column))) < 6));

    private static Planted? EventsExchanged(Damage d)
    {
        if (d.Pick(Events, (f, r) => r.Cells[2] == "1" && d.RowsOf(Events, r.Participant).Any(o => o.Cells[2] == "2" && o.Cells[1] == r.Cells[1] && o.Cells[3] != r.Cells[3])) is not { } row)
            return null;
        return Exchange(d, Events, row, d.RowsOf(Events, row.Participant).First(o => o.Cells[2] == "2" && o.Cells[1] == row.Cells[1]), "event_day");
    }

    private static Planted? StepsExchanged(Damage d)
    {
        string[] order = ["weight_bearing", "normal_walking", "hopping", "return_to_sport"];
        bool Next(ExportRow a, ExportRow b) => a.Cells[1] == b.Cells[1] && Array.IndexOf(order, b.Cells[2]) == Array.IndexOf(order, a.Cells[2]) + 1
            && b.Cells[3] is not ("" or "NA") && a.Cells[3] is not ("" or "NA") && a.Cells[3] != b.Cells[3];
        if (d.Pick(Steps, (f, r) => d.RowsOf(Steps, r.Participant).Any(o => Next(r, o))) is not { } row)
            return null;
        return Exchange(d, Steps, row, d.RowsOf(Steps, row.Participant).First(o => Next(row, o)), "milestone_day");
    }

    private static Planted? OperationOut(Damage d)
    {
        if (d.Pick(Steps, (f, r) => r.Cells[3] is not ("" or "NA")) is not { } row)
            return null;
        ExportRow[] gone = [.. d.RowsOf(Events, row.Participant).Where(r => r.Cells[1] == row.Cells[1] && r.Cells[4] == "operation")];
        return d.Remove(Events, row.Participant, gone);
    }

    private static Planted? NoPriorKnee(Damage d)
    {
        if (d.Pick(Roster, (f, r) => f.Get(r, "prior_instability") == "yes") is not { } row)
            return null;
        foreach (ExportRow knee in d.RowsOf("knees.csv", row.Participant))
            d.SetIn("knees.csv", knee, "dislocated_before", "no");
        return new Planted(Roster, [row], [row.Participant], "prior_instability", "yes", "yes, at neither knee");
    }

    private static Planted? Rounds(Damage d)
    {
        ExportFileText laxity = d.Export["laxity.csv"];
        string rater = laxity.Rows[d.Below(laxity.Rows.Count)].Cells[2];
        foreach (ExportRow row in laxity.Rows.Where(r => r.Cells[2] == rater))
        {
            foreach (string column in new[] { "knee_left_deg", "knee_right_deg" })
            {
                if (double.TryParse(laxity.Get(row, column), System.Globalization.CultureInfo.InvariantCulture, out double value))
                    laxity.Set(row, column, CellWays.Text(5 * Math.Round(value / 5)));
            }
        }
        return new Planted("laxity.csv", [], [], "knee_left_deg", $"readings of {rater}", "rounded to fives");
    }
}
