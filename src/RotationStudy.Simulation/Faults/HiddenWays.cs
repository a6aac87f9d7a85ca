namespace RotationStudy.Simulation.Faults;

/// <summary>Damage that leaves nothing to see: only the source documents can show it.</summary>
internal static class HiddenWays
{
    private const string Exams = "knee_exams.csv";

    internal static IEnumerable<FaultWay> All =>
    [
        Hidden("small_slip", "A reading is five degrees off.", "Smaller than the error of reading.", d => d.Set(Exams, "hip_internal_rotation_deg", v => CellWays.Text(CellWays.Number(v) + (CellWays.Number(v) > 50 ? -5 : 5)))),
        Hidden("yes_for_no", "Apprehension is entered the wrong way round.", "Both answers are true of many knees, and two raters often differ.", d => d.Set(Exams, "apprehension", v => v == "yes" ? "no" : "yes")),
        Hidden("sex_wrong", "The sex is entered wrongly.", "Nothing else in the export depends on it for sure.", d => d.Set("participants.csv", "sex", v => v == "F" ? "M" : "F")),
        Hidden("method_wrong", "The method of anteversion is entered wrongly.", "Methods differ by less than people do.", d => d.Set("imaging.csv", "anteversion_method", v => v == "murphy" ? "jarrett" : "murphy")),
        Hidden("day_within_window", "A visit is dated three days late.", "It still lies within its window and order.", d => d.Set("visits.csv", "visit_day", v => CellWays.Text(CellWays.Number(v) + 3), (f, r) => r.Cells[1] == "month_6" && CellWays.Number(f.Get(r, "visit_day")) is > 130 and < 230)),
        Hidden("event_not_sent", "A subluxation is not sent.", "A row that nothing refers to leaves no trace.", d => d.Pick("events.csv", (f, r) => f.Get(r, "event_kind") == "subluxation") is { } row ? d.Remove("events.csv", row.Participant, [row]) : null),
        Hidden("pain_one_off", "A pain score is one point off.", "Both are possible on any day.", d => d.Set("outcomes.csv", "pain_0_10", v => CellWays.Text(CellWays.Number(v) > 5 ? CellWays.Number(v) - 1 : CellWays.Number(v) + 1))),
    ];

    private static FaultWay Hidden(string name, string does, string why, Func<Damage, Planted?> plant) => new(name, does, [], why, plant);
}
