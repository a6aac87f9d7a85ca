using System.Globalization;
using RotationStudy.Statistics.Distributions;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Declared;

/// <summary>Raters whose readings end on round numbers more often than readings to one unit would.</summary>
internal static class LastDigit
{
    internal static void Apply(LastDigitCheck check, TableDraft table, RowReport report)
    {
        DraftColumn by = table.Named(check.By);
        foreach (string name in check.Columns)
        {
            DraftColumn column = table.Named(name);
            int[] readings = new int[by.Definition.Codes.Length];
            int[] round = new int[readings.Length];
            foreach (int row in table.Order)
            {
                if (!by[row].HasValue || !column[row].HasValue)
                    continue;
                readings[by[row].Code]++;
                // Ends on a multiple exactly: 35.0 does, 35.4 does not.
                if (column[row].Number % check.MultipleOf == 0)
                    round[by[row].Code]++;
            }
            for (int code = 0; code < readings.Length; code++)
                Judge(check, column, by.Definition.Codes[code].Code, readings[code], round[code], report);
        }
    }

    private static void Judge(LastDigitCheck check, DraftColumn column, string who, int readings, int round, RowReport report)
    {
        if (readings < check.AtLeast || round <= check.MoreThan * readings)
            return;
        double p = Binomial.AtLeast(round, readings, 1.0 / check.MultipleOf);
        if (p >= check.BelowP)
            return;
        string size = p < 0.0001 ? "below 0.0001" : string.Create(CultureInfo.InvariantCulture, $"{p:F4}");
        string share = string.Create(CultureInfo.InvariantCulture, $"{100.0 * round / readings:F0}%");
        report.AddToFile(
            column, share, string.Create(CultureInfo.InvariantCulture, $"about {100.0 / check.MultipleOf:F0}%"),
            string.Create(
                CultureInfo.InvariantCulture,
                $"{round} of {readings} readings of '{column.Definition.Name}' by {who} ({share}) are multiples of {check.MultipleOf}; p {size}."));
    }
}
