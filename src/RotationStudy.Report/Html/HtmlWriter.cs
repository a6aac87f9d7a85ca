using System.Globalization;
using System.Net;
using System.Text;

namespace RotationStudy.Report.Html;

/// <summary>Writes one page of HTML: escapes whatever it is given and keeps elements and headings in order.</summary>
/// <remarks>
/// A writer of our own in place of a template engine: some 120 lines against a web framework that would have to be installed
/// to run the program and costs a quarter of a second at start; sections are plain C# that the compiler checks; and there is
/// one way in for text, which escapes. Markup enters only as <see cref="TrustedMarkup"/>.
/// </remarks>
internal sealed class HtmlWriter
{
    private static readonly HashSet<string> Void = ["meta", "br", "hr", "img", "col"];

    private readonly StringBuilder _html = new("<!DOCTYPE html>\n");
    private readonly Stack<string> _open = new();
    private readonly Stack<PageElement> _elements = new([new PageElement("page", [])]);
    private int _heading;

    /// <summary>The same page as a tree, for documents that are no HTML.</summary>
    internal PageElement Tree => _open.Count == 0
        ? _elements.Peek()
        : throw new InvalidOperationException($"<{_open.Peek()}> is still open.");

    /// <summary>Opens an element; an attribute whose value is null is left out.</summary>
    internal HtmlWriter Open(string tag, params ReadOnlySpan<(string Name, string? Value)> attributes)
    {
        _html.Append('<').Append(tag);
        foreach ((string name, string? value) in attributes)
        {
            if (value is not null)
                _html.Append(CultureInfo.InvariantCulture, $" {name}=\"{Escape(value)}\"");
        }
        _html.Append('>');
        PageElement element = new(tag, [.. attributes]);
        _elements.Peek().Add(element);
        if (!Void.Contains(tag))
        {
            _open.Push(tag);
            _elements.Push(element);
        }
        return this;
    }

    /// <summary>Closes the innermost element, which must be the one named.</summary>
    internal HtmlWriter Close(string tag)
    {
        string innermost = _open.Pop();
        _elements.Pop();
        if (innermost != tag)
            throw new InvalidOperationException($"The page closes <{tag}> while <{innermost}> is open.");
        _html.Append("</").Append(tag).Append('>');
        if (tag is not ("a" or "span" or "strong" or "em" or "code" or "th" or "td"))
            _html.Append('\n');
        return this;
    }

    /// <summary>Text, escaped.</summary>
    internal HtmlWriter Text(string text)
    {
        _html.Append(Escape(text));
        _elements.Peek().Add(VisibleText.Of(text));
        return this;
    }

    /// <summary>An element that holds text only.</summary>
    internal HtmlWriter Element(string tag, string text, params ReadOnlySpan<(string Name, string? Value)> attributes)
        => Open(tag, attributes).Text(text).Close(tag);

    /// <summary>A heading; levels may not be skipped on the way down.</summary>
    internal HtmlWriter Heading(int level, string text, string? id = null)
    {
        if (level > _heading + 1)
            throw new InvalidOperationException($"A heading of level {level} follows one of level {_heading}.");
        _heading = level;
        return Element("h" + level.ToString(CultureInfo.InvariantCulture), text, ("id", id));
    }

    /// <summary>A section with its heading, known to assistive technology by it.</summary>
    internal void Section(string id, string title, Action content, int level = 2)
    {
        Open("section", ("id", id), ("aria-labelledby", id + "-h"));
        Heading(level, title, id + "-h");
        content();
        Close("section");
    }

    /// <summary>A list of sentences; nothing when there are none.</summary>
    internal void List(IEnumerable<string> items, string? cssClass = null)
    {
        string[] all = [.. items];
        if (all.Length == 0)
            return;
        Open("ul", ("class", cssClass));
        foreach (string item in all)
            Element("li", item);
        Close("ul");
    }

    /// <summary>A link within the page or to a file beside it.</summary>
    internal HtmlWriter Link(string to, string text) => Element("a", text, ("href", to));

    /// <summary>Markup that the program made itself.</summary>
    internal HtmlWriter Markup(TrustedMarkup markup)
    {
        _html.Append(markup.Html);
        return this;
    }

    /// <summary>The whole page. Every element must be closed.</summary>
    internal string Finish() => _open.Count == 0
        ? _html.ToString()
        : throw new InvalidOperationException($"<{_open.Peek()}> is still open at the end of the page.");

    /// <summary>An id for an element made from a name.</summary>
    internal static string Id(string prefix, string name)
        => prefix + string.Concat(name.Select(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_' ? c : '-'));

    private static string Escape(string text) => WebUtility.HtmlEncode(VisibleText.Of(text));
}

/// <summary>Markup made by the program: never text from an export or a protocol.</summary>
/// <param name="Html">The markup.</param>
internal readonly record struct TrustedMarkup(string Html);
