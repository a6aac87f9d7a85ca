using System.Collections.Immutable;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>An item of a YAML file and where it stands.</summary>
internal abstract record YamlItem(Place Place)
{
    /// <summary>What the item is, in words.</summary>
    internal abstract string Words { get; }
}

/// <summary>A word, number or sentence.</summary>
internal sealed record YamlText(Place Place, string Value, bool Plain) : YamlItem(Place)
{
    /// <summary>Whether nothing was written, which is not the same as an empty text in quotes.</summary>
    internal bool IsNothing => Plain && Value is "" or "~" or "null";

    internal override string Words => IsNothing ? "nothing" : $"'{(Value.Length > 40 ? Value[..40] + "…" : Value)}'";
}

/// <summary>A list.</summary>
internal sealed record YamlList(Place Place, ImmutableArray<YamlItem> Items) : YamlItem(Place)
{
    internal override string Words => "a list";
}

/// <summary>Keys with their values, in the order of the file; a key may wrongly occur twice.</summary>
internal sealed record YamlMap(Place Place, ImmutableArray<YamlEntry> Entries) : YamlItem(Place)
{
    internal override string Words => "a group of keys";
}

/// <summary>A key and its value.</summary>
internal sealed record YamlEntry(string Key, Place KeyPlace, YamlItem Value);

/// <summary>Reads a YAML text into items that know their line and column.</summary>
/// <remarks>
/// One document of plain keys, lists and texts. Anchors, aliases, tags and keys that are not words are refused: a
/// protocol is read by people, and what is written once with a name and used elsewhere is easily missed.
/// </remarks>
internal sealed class YamlTree
{
    private const int DeepestNesting = 16;

    private readonly string file;
    private readonly FaultList faults;
    private readonly Parser parser;

    private YamlTree(string file, string text, FaultList faults)
    {
        this.file = file;
        this.faults = faults;
        parser = new Parser(new StringReader(text));
    }

    /// <summary>The keys of the file, or null after a fault.</summary>
    internal static YamlMap? Read(string file, string text, FaultList faults)
    {
        const string hint = "Mend the text at this place or just above it.";
        YamlTree tree = new(file, text, faults);
        try
        {
            return tree.ReadDocument();
        }
        catch (YamlException e)
        {
            faults.Add(PlaceOf(file, e.Start), $"This is not valid YAML: {e.Message.TrimEnd('.')}.", hint);
        }
        catch (InvalidOperationException)
        {
            // The parser gives up on some unclosed brackets without saying where; the last thing it understood is near.
            faults.Add(
                PlaceOf(file, tree.parser.Current?.End ?? Mark.Empty),
                "This is not valid YAML: a bracket or quotation mark is not closed.", hint);
        }
        return null;
    }

    private static Place PlaceOf(string file, in Mark mark) => new(file, (int)mark.Line, (int)mark.Column);

    private YamlMap? ReadDocument()
    {
        Advance<StreamStart>();
        if (parser.Current is StreamEnd)
        {
            faults.Add(new Place(file, 1, 1), "The file is empty.", "Write the keys it must have.");
            return null;
        }
        Advance<DocumentStart>();
        YamlItem root = ReadItem(0);
        Advance<DocumentEnd>();
        if (parser.Current is DocumentStart second)
        {
            faults.Add(
                PlaceOf(file, second.Start), "The file holds a second document.",
                "Keep one document and remove the line '---'.");
        }
        if (root is YamlMap map)
            return map;
        faults.Add(root.Place, $"The file must hold keys at its top, found {root.Words}.", "Write 'key: value' lines.");
        return null;
    }

    private YamlItem ReadItem(int depth)
    {
        ParsingEvent current = parser.Current!;
        Place place = PlaceOf(file, current.Start);
        if (depth > DeepestNesting)
            throw new YamlException(current.Start, current.End, $"lists and keys are nested more than {DeepestNesting} deep");
        RefuseNames(current);
        switch (current)
        {
            case Scalar scalar:
                parser.MoveNext();
                return new YamlText(place, scalar.Value, scalar.Style == ScalarStyle.Plain);
            case SequenceStart:
                return ReadList(place, depth);
            case MappingStart:
                return ReadMap(place, depth);
            default:
                throw new YamlException(current.Start, current.End, "a reference to another part of the file is not allowed; write the value out");
        }
    }

    private YamlList ReadList(Place place, int depth)
    {
        Advance<SequenceStart>();
        ImmutableArray<YamlItem>.Builder items = ImmutableArray.CreateBuilder<YamlItem>();
        while (parser.Current is not SequenceEnd)
            items.Add(ReadItem(depth + 1));
        Advance<SequenceEnd>();
        return new YamlList(place, items.ToImmutable());
    }

    private YamlMap ReadMap(Place place, int depth)
    {
        Advance<MappingStart>();
        ImmutableArray<YamlEntry>.Builder entries = ImmutableArray.CreateBuilder<YamlEntry>();
        while (parser.Current is not MappingEnd)
        {
            YamlItem key = ReadItem(depth + 1);
            YamlItem value = ReadItem(depth + 1);
            if (key is YamlText text)
                entries.Add(new YamlEntry(text.Value, text.Place, value));
            else
                faults.Add(key.Place, $"A key must be a word, found {key.Words}.", "Write 'key: value'.");
        }
        Advance<MappingEnd>();
        return new YamlMap(place, entries.ToImmutable());
    }

    private void RefuseNames(ParsingEvent current)
    {
        if (current is not NodeEvent node)
            return;
        if (!node.Anchor.IsEmpty)
        {
            faults.Add(
                PlaceOf(file, node.Start), $"The name '&{node.Anchor.Value}' is not allowed here.",
                "Write each value out where it is used.");
        }
        if (!node.Tag.IsEmpty && !node.Tag.IsNonSpecific)
        {
            faults.Add(
                PlaceOf(file, node.Start), $"The type mark '{node.Tag.Value}' is not allowed here.",
                "Remove it; types follow from the key.");
        }
    }

    private void Advance<T>()
        where T : ParsingEvent
    {
        if (parser.Current is null)
            parser.MoveNext();
        if (parser.Current is not T)
            throw new YamlException(parser.Current!.Start, parser.Current.End, $"unexpected {parser.Current.GetType().Name}");
        parser.MoveNext();
    }
}
