namespace RotationStudy.Report.Html;

/// <summary>An element of a page as it was written: what documents that are no HTML are made from, so that they say the same.</summary>
/// <remarks>Markup that the program made (style, script, pictures) is no part of it: a picture is found by the id of its figure.</remarks>
/// <param name="tag">Tag.</param>
/// <param name="attributes">Attributes; those whose value is null were not written.</param>
internal sealed class PageElement(string tag, IReadOnlyList<(string Name, string? Value)> attributes)
{
    private readonly List<PageContent> _content = [];

    internal string Tag { get; } = tag;

    /// <summary>Elements and texts, in order.</summary>
    internal IReadOnlyList<PageContent> Content => _content;

    /// <summary>The elements among the content.</summary>
    internal IEnumerable<PageElement> Children => _content.Where(c => c.Element is not null).Select(c => c.Element!);

    /// <summary>All text in it, elements included.</summary>
    internal string AllText => string.Concat(_content.Select(c => c.Element?.AllText ?? c.Text));

    /// <summary>The value of an attribute; null where there is none.</summary>
    internal string? Attribute(string name) => attributes.FirstOrDefault(a => a.Name == name).Value;

    /// <summary>Whether its class attribute names that class.</summary>
    internal bool HasClass(string name) => Attribute("class")?.Split(' ').Contains(name) == true;

    internal void Add(PageElement element) => _content.Add(new PageContent("", element));

    internal void Add(string text) => _content.Add(new PageContent(text, null));
}

/// <summary>A piece of an element: a text, or an element.</summary>
/// <param name="Text">Text; empty for an element.</param>
/// <param name="Element">Element; null for a text.</param>
internal readonly record struct PageContent(string Text, PageElement? Element);
