using System.Globalization;
using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of one column: type against role, unit, ranges, codes, source.</summary>
internal static class ColumnRules
{
    internal static void Check(ColumnDefinition column, RuleContext context)
    {
        CheckRole(column, context);
        CheckUnit(column, context);
        CheckRanges(column, context);
        CheckCodes(column, context);
        if (IsNumeric(column) && column.Source is null)
        {
            context.Fault(
                column.Place, "source", $"Column '{column.Name}' has no source.",
                "Say where its range and definition come from, or write 'common practice, no source'.");
        }
    }

    internal static bool IsNumeric(ColumnDefinition column) => column.Type is ColumnType.Number or ColumnType.WholeNumber;

    private static void CheckRole(ColumnDefinition column, RuleContext context)
    {
        StudyDescription study = context.Protocol.Study;
        (bool fits, string needed) = column.Role switch
        {
            ColumnRole.Participant => (column.Type == ColumnType.Identifier, "identifier"),
            ColumnRole.Site or ColumnRole.Side => (column.Type == ColumnType.Code, "code"),
            ColumnRole.Visit => (column.Type == ColumnType.Code || IsNumeric(column), "code, number or whole_number"),
            ColumnRole.Day => (IsNumeric(column), "whole_number or number"),
            ColumnRole.Rater => (column.Type is ColumnType.Code or ColumnType.Identifier, "code or identifier"),
            _ => (true, string.Empty),
        };
        if (!fits)
        {
            context.Fault(
                column.Place, "type", $"Column '{column.Name}' has a type that does not fit its role.",
                $"Use {needed}.");
        }
        if (column.Role == ColumnRole.Visit && column.Type == ColumnType.Code && study.Visits.IsEmpty)
        {
            context.Fault(
                column.Place, "role", "study.yaml lists no visits.",
                "List them there, or give the column the type number.");
        }
        if (column.Role == ColumnRole.Site && study.Sites.IsEmpty)
            context.Fault(column.Place, "role", "study.yaml lists no sites.", "List them there.");
        if (column.Role == ColumnRole.Side && study.UnitWords is null)
        {
            context.Fault(
                column.Place, "role", "study.yaml has no 'unit_words' for what a side is called.",
                "Add unit_words: { one: knee, many: knees }.");
        }
    }

    private static void CheckUnit(ColumnDefinition column, RuleContext context)
    {
        if (column.Unit is null)
            return;
        if (!IsNumeric(column))
        {
            context.Fault(
                column.Place, "unit", $"Column '{column.Name}' holds no numbers and has no unit.",
                "Remove 'unit'.");
        }
        else if (!Units.All.Contains(column.Unit))
            context.Fault(column.Place, "unit", $"Unknown unit '{column.Unit}'.", NearestName.Hint(column.Unit, Units.All));
    }

    private static void CheckRanges(ColumnDefinition column, RuleContext context)
    {
        foreach ((string key, ValueRange? range) in new[] { ("possible", column.Possible), ("plausible", column.Plausible) })
        {
            if (range is null)
                continue;
            if (!IsNumeric(column))
            {
                context.Fault(
                    column.Place, key, $"Column '{column.Name}' holds no numbers and has no range.",
                    $"Remove '{key}'.");
            }
            else if (range.Lowest >= range.Highest)
            {
                context.Fault(
                    column.Place, $"{key}.lowest",
                    Invariant($"The range of '{column.Name}' runs from {range.Lowest} down to {range.Highest}."),
                    "Write the lower value as 'lowest'.");
            }
        }
        if (column is { Possible: { } possible, Plausible: { } plausible } && (plausible.Lowest < possible.Lowest || plausible.Highest > possible.Highest))
        {
            context.Fault(
                column.Place, "plausible",
                $"The plausible range of '{column.Name}' reaches beyond the possible one.",
                "Keep plausible values within possible ones.");
        }
    }

    private static void CheckCodes(ColumnDefinition column, RuleContext context)
    {
        if (column.Type != ColumnType.Code && column.Codes.Length > 0)
        {
            context.Fault(
                column.Place, "codes", $"Column '{column.Name}' is not of type code.",
                "Remove 'codes' or change the type.");
        }
        bool given = column.Role is ColumnRole.Visit or ColumnRole.Site or ColumnRole.Side;
        if (column.Type == ColumnType.Code && column.Codes.IsEmpty && !given)
        {
            context.Fault(
                column.Place, "codes", $"Column '{column.Name}' lists no codes.",
                "List each code with its meaning.");
        }
        context.Unique(column.Codes.Select((c, i) => (c.Code, column.Place, $"codes[{i}].code")), "code");
        context.Unique(column.MissingCodes.Select((c, i) => (c.Code, column.Place, $"missing_codes[{i}].code")), "missing code");
        for (int i = 0; i < column.MissingCodes.Length; i++)
        {
            string code = column.MissingCodes[i].Code;
            bool isNumber = double.TryParse(code, NumberStyles.Float, CultureInfo.InvariantCulture, out double value);
            if (column.Codes.Any(c => c.Code == code) || (IsNumeric(column) && isNumber && column.Possible?.Holds(value) != false))
            {
                context.Fault(
                    column.Place, $"missing_codes[{i}].code",
                    $"'{code}' is a missing code and a valid value of '{column.Name}' at once.",
                    "Choose a code that no value can have.");
            }
        }
    }

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}
