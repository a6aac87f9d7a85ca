using System.Globalization;
using System.Text;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Templates;

/// <summary>What a template tells the people who fill it in.</summary>
internal static class TemplateWords
{
    /// <summary>What belongs into a cell, in a sentence or two.</summary>
    internal static string Hint(ColumnDefinition column)
    {
        StringBuilder hint = new(column.Label);
        hint.Append(column.Unit is null ? "." : $", in {column.Unit}.");
        switch (column.Type)
        {
            case ColumnType.Code:
                hint.Append(CultureInfo.InvariantCulture, $" {Codes(column.Codes)}.");
                break;
            case ColumnType.Identifier:
                hint.Append(" A code of letters, digits and hyphens: never a name, initials, a date of birth or a record number.");
                break;
            default:
                hint.Append(column.Possible is null ? string.Empty : $" {Range(column.Possible)}.");
                hint.Append(column.Type == ColumnType.WholeNumber ? " Whole numbers." : " Decimal point.");
                break;
        }
        if (!column.MissingCodes.IsEmpty)
            hint.Append(CultureInfo.InvariantCulture, $" Instead of a value: {Codes(column.MissingCodes)}.");
        hint.Append(column.Required ? " Needed." : " Empty: not recorded.");
        return hint.ToString();
    }

    internal static string TypeOf(ColumnDefinition column) => column.Type switch
    {
        ColumnType.Code => "code",
        ColumnType.Identifier => "identifier",
        ColumnType.WholeNumber => "whole number",
        _ => "number",
    };

    internal static string Range(ValueRange? range)
        => range is null ? string.Empty : string.Create(CultureInfo.InvariantCulture, $"{range.Lowest} to {range.Highest}");

    internal static string Codes(IEnumerable<CodeDefinition> codes)
        => string.Join(", ", codes.Select(c => c.Code == c.Meaning ? c.Code : $"{c.Code} = {c.Meaning}"));

    internal static string ReadMe(StudyProtocol protocol)
    {
        StringBuilder text = new();
        text.Append(CultureInfo.InvariantCulture, $"{protocol.Study.Title}\nProtocol version {protocol.Study.Version}: what a site sends\n\n");
        text.Append("Fill in either the files of csv/ or those of workbooks/, one row below the other, and send all of them in one folder\n");
        text.Append("or zip archive. Leave names of files and columns as they are. columns.csv explains every column.\n\nFiles:\n");
        foreach (TableDefinition table in protocol.Tables)
        {
            text.Append(CultureInfo.InvariantCulture, $"  {table.File}: {table.Label}, one row per {string.Join(", ", table.Key)}");
            text.Append(table.Required ? "\n" : " (leave it out when there is nothing to tell)\n");
        }
        text.Append("\nAn empty cell means that nothing was recorded. Days are counted from enrolment, which is day 0.");
        text.Append(protocol.Study.UnitWords is null ? "\n" : " Sides are L and R.\n");
        text.Append("\nNever send: names or initials, addresses, telephone numbers, e-mail addresses, record or insurance numbers, calendar\n");
        text.Append("dates (also of birth), ages over 89, free text, photographs or images. The list that links identifiers to people stays\n");
        text.Append("with the site. An export in which any of this is found is refused as a whole, before anything is written.\n");
        text.Append("\nA participant who withdrew consent: leave every row of theirs out, and tell the study the identifier.\n");
        return text.ToString();
    }
}
