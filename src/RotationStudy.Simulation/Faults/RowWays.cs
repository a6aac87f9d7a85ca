namespace RotationStudy.Simulation.Faults;

/// <summary>Damage to whole rows: repeated, torn, lost, copied to somebody else.</summary>
internal static class RowWays
{
    private const string Exams = "knee_exams.csv";
    private const string Roster = "participants.csv";

    private static readonly string[] ExamValues =
    [
        "hip_internal_rotation_deg", "hip_external_rotation_deg", "trochanteric_prominence_deg", "thigh_foot_angle_deg",
        "transmalleolar_axis_deg", "foot_progression_deg", "patellar_glide_quadrants", "apprehension", "tracking_sign",
    ];

    private static readonly string[] ImageValues =
        ["femoral_anteversion_deg", "tibial_torsion_deg", "tubercle_distance_mm", "patellar_height_ratio", "patellar_tilt_deg"];

    internal static IEnumerable<FaultWay> All =>
    [
        new("row_repeated", "A row is sent twice.", ["row.duplicate"], null, d => Repeat(d, "laxity.csv", null)),
        new("row_twice_and_different", "A row is sent twice and differs.", ["key.conflict"], null, d => Repeat(d, "outcomes.csv", "knee_function_score")),
        new("cell_lost", "A row has a cell too few.", ["row.fields"], null, d => Torn(d, r => r.Cells.RemoveAt(r.Cells.Count - 1))),
        new("cell_too_many", "A row has a cell too many.", ["row.fields"], null, d => Torn(d, r => r.Cells.Add("x"))),
        new("participant_left_out", "A participant is not in the roster.", ["participant.unknown"], null, d => TakeOut(d, Roster, r => true)),
        new("visit_left_out", "A visit is not in the list of visits.", ["visit.not_listed"], null, d => TakeOut(d, "visits.csv", r => r.Cells[1] != "baseline")),
        new("knees_left_out", "The knees of a participant are left out.", ["participant_without_knees"], null, d => d.Pick(Roster) is { } r ? d.Remove("knees.csv", r.Participant, d.RowsOf("knees.csv", r.Participant)) : null),
        new("all_visits_left_out", "A participant has no row of any visit.", ["participant.no_visit"], null, WithoutVisits),
        new("one_side_left_out", "One side of an examination is left out.", ["one_side_only"], null, OneSide),
        new("examination_left_out", "The examination of a visit is left out.", ["visit_without_examination"], null, d => ExamOut(d)),
        new("participant_twice", "A participant has a second identifier.", ["participant_repeated"], null, d => Twin(d, id => id[..2] + "9" + id[2..])),
        new("id_without_its_zero", "A second identifier lacks the leading zero.", ["identifier.look_alike"], null, d => Twin(d, id => id[..2] + "0" + id[2..])),
        new("examination_carried_forward", "An examination is copied to the next visit.", ["examination_repeated"], null, CarriedForward),
        new("examination_of_another", "An examination is copied from somebody else.", ["examination_repeated"], null, d => FromAnother(d, Exams, ExamValues, r => r.Cells[1] == "baseline")),
        new("images_of_another", "Images are copied from somebody else.", ["imaging_repeated"], null, d => FromAnother(d, "imaging.csv", ImageValues, _ => true)),
        new("side_copied", "One side of an examination is copied to the other.", ["sides_copied"], null, d => SideCopied(d, Exams, ExamValues, 2, 3)),
        new("image_side_copied", "One side of the images is copied to the other.", ["image_sides_copied"], null, d => SideCopied(d, "imaging.csv", ImageValues, 1, 2)),
    ];

    private static Planted? Repeat(Damage d, string file, string? differing)
    {
        if (d.Pick(file, (f, r) => differing is null || f.Get(r, differing) is not ("" or "NA")) is not { } row)
            return null;
        ExportRow second = row.Copy();
        d.Export[file].Rows.Insert(d.Below(d.Export[file].Rows.Count), second);
        if (differing is not null)
        {
            double value = CellWays.Number(d.Export[file].Get(row, differing));
            d.Export[file].Set(second, differing, CellWays.Text(value > 50 ? value - 7 : value + 7));
        }
        return new Planted(file, [row, second], [row.Participant], differing, "one row", "two rows");
    }

    private static Planted? Torn(Damage d, Action<ExportRow> tear)
    {
        if (d.Pick("laxity.csv") is not { } row)
            return null;
        tear(row);
        return new Planted("laxity.csv", [row], [row.Participant], null, "whole row", "torn row");
    }

    private static Planted? TakeOut(Damage d, string file, Func<ExportRow, bool> fits)
        => d.Pick(file, (_, r) => fits(r) && (file != "visits.csv" || d.RowsOf(Exams, r.Participant).Any(e => e.Cells[1] == r.Cells[1]))) is { } row
            ? d.Remove(file, row.Participant, [row])
            : null;

    private static Planted? WithoutVisits(Damage d)
    {
        if (d.Pick(Roster) is not { } row)
            return null;
        foreach (string file in d.Export.Names.Where(n => d.Export[n].Header.Contains("visit")))
            d.Remove(file, row.Participant, d.RowsOf(file, row.Participant));
        return new Planted(Roster, [row], [row.Participant], null, "visits", "none");
    }

    private static Planted? OneSide(Damage d)
    {
        if (d.Pick(Exams) is not { } row)
            return null;
        ExportRow[] gone = [.. d.RowsOf(Exams, row.Participant).Where(r => r.Cells[1] == row.Cells[1] && r.Cells[2] == row.Cells[2])];
        return d.Remove(Exams, row.Participant, gone);
    }

    private static Planted? ExamOut(Damage d)
    {
        if (d.Pick(Exams) is not { } row)
            return null;
        return d.Remove(Exams, row.Participant, [.. d.RowsOf(Exams, row.Participant).Where(r => r.Cells[1] == row.Cells[1])]);
    }

    private static Planted? Twin(Damage d, Func<string, string> rename)
    {
        if (d.Pick(Roster, (f, r) => f.Get(r, "height_cm") is not ("" or "NA") && f.Get(r, "body_mass_kg") is not ("" or "NA")) is not { } row)
            return null;
        ExportRow twin = row.Copy();
        twin.Cells[0] = rename(row.Participant);
        d.Export[Roster].Rows.Add(twin);
        d.Touch(twin.Participant);
        return new Planted(Roster, [row, twin], [row.Participant, twin.Participant], "participant_id", row.Participant, twin.Participant);
    }

    private static Planted? CarriedForward(Damage d)
    {
        if (d.Pick(Exams, (f, r) => r.Cells[1] == "month_12" && d.RowsOf(Exams, r.Participant) is var all
            && Whole(f, all, "month_6", 2) && all.Count(o => o.Cells[1] == "month_12") == 2) is not { } row)
            return null;
        ExportRow[] all = d.RowsOf(Exams, row.Participant);
        return CopyOver(d.Export[Exams], Exams, [.. all.Where(r => r.Cells[1] == "month_6")], [.. all.Where(r => r.Cells[1] == "month_12")], ExamValues);
    }

    private static bool Whole(ExportFileText file, ExportRow[] rows, string visit, int count)
        => rows.Where(r => r.Cells[1] == visit).ToArray() is var these && these.Length == count
            && these.All(r => ExamValues.All(c => file.Get(r, c) is not ("" or "NA")));

    private static Planted? FromAnother(Damage d, string file, string[] columns, Func<ExportRow, bool> fits)
    {
        ExportFileText text = d.Export[file];
        bool Fits(ExportFileText f, ExportRow r) => fits(r) && d.RowsOf(file, r.Participant).Where(fits).ToArray() is var rows
            && rows.Length == 2 && rows.All(o => columns.All(c => f.Get(o, c) is not ("" or "NA")));
        if (d.Pick(file, Fits) is not { } from || d.Pick(file, Fits) is not { } to)
            return null;
        Planted done = CopyOver(text, file, [.. d.RowsOf(file, from.Participant).Where(fits)], [.. d.RowsOf(file, to.Participant).Where(fits)], columns);
        return done with { Participants = [from.Participant, to.Participant] };
    }

    private static Planted? SideCopied(Damage d, string file, string[] columns, int side, int number)
    {
        if (d.Pick(file, (f, r) => r.Cells[side] == "L" && Other(d, file, r, side, number) is not null
            && columns.All(c => f.Get(r, c) is not ("" or "NA"))) is not { } left)
            return null;
        return CopyOver(d.Export[file], file, [left], [Other(d, file, left, side, number)!], columns) with { Rows = [left, Other(d, file, left, side, number)!] };
    }

    private static ExportRow? Other(Damage d, string file, ExportRow row, int side, int number)
        => d.RowsOf(file, row.Participant).FirstOrDefault(r => r.Cells[side] == "R" && r.Cells[1] == (side == 1 ? "R" : row.Cells[1]) && r.Cells[number] == row.Cells[number]);

    private static Planted CopyOver(ExportFileText text, string file, ExportRow[] from, ExportRow[] to, string[] columns)
    {
        for (int i = 0; i < to.Length; i++)
        {
            foreach (string column in columns)
                text.Set(to[i], column, text.Get(from[i], column));
        }
        return new Planted(file, to, [to[0].Participant], null, "own values", "copied values");
    }
}
