using System.IO.Compression;
using System.Xml.Linq;
using DocumentFormat.OpenXml.Packaging;

namespace RotationStudy.Report.Documents;

/// <summary>Office files with the same bytes every time: parts in ordinal order, no dates.</summary>
internal static class OfficeFile
{
    private const string ContentTypes = "[Content_Types].xml";
    private static readonly DateTimeOffset NoTime = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <summary>Packs anew what an Open XML document has written.</summary>
    internal static byte[] Settle(MemoryStream written)
    {
        written.Position = 0;
        using ZipArchive from = new(written, ZipArchiveMode.Read);
        using MemoryStream settled = new();
        using (ZipArchive to = new(settled, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (ZipArchiveEntry part in from.Entries.OrderBy(e => e.FullName != ContentTypes).ThenBy(e => e.FullName, StringComparer.Ordinal))
            {
                // A picture is packed already.
                bool packed = part.FullName.EndsWith(".png", StringComparison.Ordinal);
                ZipArchiveEntry copy = to.CreateEntry(part.FullName, packed ? CompressionLevel.NoCompression : CompressionLevel.Optimal);
                copy.LastWriteTime = NoTime;
                using Stream source = part.Open(), target = copy.Open();
                source.CopyTo(target);
            }
        }
        return settled.ToArray();
    }

    /// <summary>Fills a part with a file that travels with the program.</summary>
    internal static void Fill(OpenXmlPart part, string resource)
    {
        using Stream stream = typeof(OfficeFile).Assembly.GetManifestResourceStream(resource)
            ?? throw new InvalidOperationException($"{resource} is missing from the program.");
        part.FeedData(stream);
    }

    /// <summary>Writes the title and language of a document; the library's own way gives the part a random name.</summary>
    internal static void Name(CoreFilePropertiesPart part, string title)
    {
        XNamespace core = "http://schemas.openxmlformats.org/package/2006/metadata/core-properties", terms = "http://purl.org/dc/elements/1.1/";
        XElement facts = new(core + "coreProperties",
            new XAttribute(XNamespace.Xmlns + "cp", core.NamespaceName), new XAttribute(XNamespace.Xmlns + "dc", terms.NamespaceName),
            new XElement(terms + "title", Text(title)), new XElement(terms + "language", "en"));
        using MemoryStream stream = new();
        new XDocument(facts).Save(stream);
        stream.Position = 0;
        part.FeedData(stream);
    }

    /// <summary>Text that XML can hold, in one line: what cannot be seen is shown as its code, half a character as a replacement mark.</summary>
    internal static string Text(string text)
        => string.Concat(VisibleText.Of(text).Replace('\n', ' ').Replace('\t', ' ').EnumerateRunes());
}
