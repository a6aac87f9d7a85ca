using System.Globalization;

namespace RotationStudy.Simulation.Faults;

/// <summary>Damage to one cell: numbers, codes and identifiers as forms get them wrong.</summary>
internal static class CellWays
{
    private const string Exams = "knee_exams.csv";
    private const string Inward = "hip_internal_rotation_deg";

    internal static IEnumerable<FaultWay> All =>
    [
        Cell("words_for_a_number", "A number is written in words.", ["type.number"], Exams, Inward, v => $"about {v}"),
        Cell("unit_in_the_cell", "The degree sign stands in the cell.", ["type.number"], Exams, "thigh_foot_angle_deg", v => v + "°"),
        Cell("blank_in_the_cell", "A blank stands before a number.", ["type.number"], Exams, "hip_external_rotation_deg", v => " " + v),
        Cell("decimal_comma", "A number has a comma.", ["type.decimal_comma"], "imaging.csv", "tubercle_distance_mm", v => v.Replace('.', ',') + (v.Contains('.') ? "" : ",0")),
        Cell("date_for_a_day", "A date stands for a day.", ["identity.date"], "visits.csv", "visit_day", _ => "2024-03-01") with { Alone = true },
        Cell("mail_address", "An e-mail address stands in a cell.", ["identity.email"], "visits.csv", "visit_day", _ => "someone@clinic.example") with { Alone = true },
        Cell("telephone_number", "A telephone number stands in a cell.", ["identity.phone"], "visits.csv", "visit_day", _ => "+99 555 010 199") with { Alone = true },
        Cell("not_a_number_mark", "A spreadsheet error stands for a number.", ["type.number"], "outcomes.csv", "knee_function_score", _ => "#VALUE!"),
        Cell("fraction_of_a_whole", "A whole number has a fraction.", ["type.whole_number"], Exams, "patellar_glide_quadrants", v => v + ".5"),
        Cell("digit_too_many", "A digit is typed twice.", ["range.possible"], Exams, Inward, v => v + v[^1] + "0"),
        Cell("lost_decimal_point", "The decimal point of a body mass is lost.", ["range.possible"], "participants.csv", "body_mass_kg", v => Tenfold(v)),
        Cell("number_for_missing", "-99 stands for a missing value.", ["range.possible"], Exams, "hip_external_rotation_deg", _ => "-99"),
        Cell("wrong_unit", "A distance is given in centimetres.", ["range.plausible", "range.possible", "image_outlier"], "imaging.csv", "patellar_height_ratio", v => Tenfold(v)),
        Cell("height_in_inches", "A height is given in inches.", ["range.plausible", "body_mass_for_height"], "participants.csv", "height_cm", v => (Number(v) / 2.54).ToString("F0", CultureInfo.InvariantCulture)),
        Cell("rare_value", "A value at the edge of what can be.", ["range.plausible"], Exams, Inward, _ => "104"),
        Cell("required_empty", "A required value is left out.", ["value.required"], "visits.csv", "visit_day", _ => string.Empty),
        Cell("hip_left_out", "The hip's finding is left out.", ["hip.first", "value.required"], Exams, "hip_finding", _ => string.Empty),
        Cell("code_in_other_case", "A code is written in the other case.", ["code.unknown"], "participants.csv", "sex", v => v.ToLowerInvariant()),
        Cell("code_misspelt", "A code is misspelt.", ["code.unknown"], "imaging.csv", "modality", v => v + "i"),
        Cell("digit_for_a_code", "1 stands for a word.", ["code.unknown"], Exams, "apprehension", _ => "1"),
        Cell("rater_unknown", "A rater is not on the list.", ["code.unknown", "rater.unknown"], Exams, "rater", _ => "R9"),
        Cell("visit_unknown", "A visit is not in the schedule.", ["code.unknown"], "laxity.csv", "visit", _ => "month_13"),
        Cell("side_in_words", "A side is written out.", ["side.unknown"], "imaging.csv", "side", v => v == "L" ? "left" : "right"),
        Cell("side_left_out", "A side is left out.", ["key.missing"], "imaging.csv", "side", _ => string.Empty),
        Cell("key_is_a_text", "A part of the key is no number.", ["type.number", "key.missing"], "imaging.csv", "imaging_no", _ => "first"),
        Id("blank_before_the_id", "A blank stands before an identifier.", ["identifier.form"], v => " " + v),
        Id("letter_that_looks_alike", "An identifier has a letter of another alphabet.", ["identifier.form"], v => "А" + v[1..]),
        Id("id_in_other_case", "An identifier is written in small letters.", ["participant.unknown"], v => v.ToLowerInvariant()),
        Id("letter_for_a_digit", "The letter O stands for a zero.", ["participant.unknown"], v => v.Contains('0') ? v.Replace('0', 'O') : v + "O"),
        Id("id_of_nobody", "An identifier belongs to nobody.", ["participant.unknown"], v => v + "99"),
    ];

    internal static double Number(string cell) => double.Parse(cell, NumberStyles.Float, CultureInfo.InvariantCulture);

    internal static string Text(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    private static string Tenfold(string cell) => Text(10 * Number(cell));

    private static FaultWay Cell(string name, string does, string[] foundBy, string file, string column, Func<string, string> change)
        => new(name, does, foundBy, null, d => d.Set(file, column, change, (f, r) => f.Get(r, column) is not "0"));

    private static FaultWay Id(string name, string does, string[] foundBy, Func<string, string> change)
        => new(name, does, foundBy, null, d => d.Set("outcomes.csv", "participant_id", change));
}
