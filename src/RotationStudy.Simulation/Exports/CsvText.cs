using System.Globalization;
using System.Text;
using RotationStudy.Simulation.Readings;

namespace RotationStudy.Simulation.Exports;

/// <summary>Lines of one CSV file: comma, LF, invariant numbers, quotes only where needed, and no cell that a spreadsheet would run.</summary>
internal sealed class CsvText
{
    private readonly StringBuilder text = new();
    private bool lineStarted;

    /// <summary>A file that begins with the names of its columns.</summary>
    internal static CsvText WithHeader(params ReadOnlySpan<string> names)
    {
        CsvText csv = new();
        foreach (string name in names)
            csv.Cell(name);
        csv.EndLine();
        return csv;
    }

    /// <summary>Appends a cell of text.</summary>
    internal CsvText Cell(string value)
    {
        Separate();
        if (value.Length > 0 && value[0] is '=' or '+' or '-' or '@' or '\t' or '\r')
            value = "'" + value;
        if (value.AsSpan().IndexOfAny(",\"\r\n") >= 0)
            text.Append('"').Append(value.Replace("\"", "\"\"", StringComparison.Ordinal)).Append('"');
        else
            text.Append(value);
        return this;
    }

    /// <summary>Appends a one-letter cell.</summary>
    internal CsvText Cell(char value)
    {
        Separate();
        text.Append(value);
        return this;
    }

    /// <summary>Appends a number in its shortest form.</summary>
    internal CsvText Cell(double value)
    {
        Separate();
        text.Append(CultureInfo.InvariantCulture, $"{value + 0.0}");
        return this;
    }

    /// <summary>Appends a reading: its number, nothing, or NA.</summary>
    internal CsvText Cell(Reading reading) => reading.State switch
    {
        ReadingState.Recorded => Cell(reading.Value),
        ReadingState.NotDone => Cell("NA"),
        _ => Cell(""),
    };

    /// <summary>Appends a yes/no reading.</summary>
    internal CsvText YesNo(Reading reading)
        => reading.State == ReadingState.Recorded ? Cell(reading.Value > 0 ? "yes" : "no") : Cell(reading);

    /// <summary>Ends the line.</summary>
    internal void EndLine()
    {
        text.Append('\n');
        lineStarted = false;
    }

    /// <summary>Bytes of what was appended, UTF-8.</summary>
    internal byte[] ToBytes() => Encoding.UTF8.GetBytes(text.ToString());

    private void Separate()
    {
        if (lineStarted)
            text.Append(',');
        lineStarted = true;
    }
}
