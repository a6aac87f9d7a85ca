using System.Text.Json.Nodes;
using RotationStudy.Study.Results;

namespace RotationStudy.Cli.Running;

/// <summary>Points under headings, for a terminal and for machines.</summary>
internal static class PointLines
{
    private const int Width = 100;
    private const string Indent = "    ";

    /// <summary>Each heading once, what is said below it, wrapped at blanks.</summary>
    internal static IEnumerable<string> Of(IEnumerable<ExplainedPoint> points)
    {
        string before = string.Empty;
        foreach (ExplainedPoint point in points)
        {
            if (point.Heading != before)
                yield return "  " + point.Heading;
            foreach (string line in Wrapped(point.Text))
                yield return line;
            before = point.Heading;
        }
    }

    /// <summary>The same as JSON.</summary>
    internal static JsonArray Json(IEnumerable<ExplainedPoint> points)
        => new([.. points.Select(p => new JsonObject { ["heading"] = p.Heading, ["text"] = p.Text })]);

    private static IEnumerable<string> Wrapped(string text)
    {
        string line = Indent;
        foreach (string word in text.Split([' ', '\n', '\t', '\r'], StringSplitOptions.RemoveEmptyEntries))
        {
            if (line.Length + word.Length > Width && line.Length > Indent.Length)
            {
                yield return line.TrimEnd();
                line = Indent;
            }
            line += word + " ";
        }
        yield return line.TrimEnd();
    }
}
