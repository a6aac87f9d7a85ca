using DocumentFormat.OpenXml.Wordprocessing;

namespace RotationStudy.Report.Documents.Word;

/// <summary>Numbering of lists: one for all bullets, one for each numbered list, so that each begins at 1.</summary>
internal sealed class WordLists
{
    private const int BulletKind = 1, NumberKind = 2, BulletList = 1;

    private int _numbered;

    /// <summary>The numbering that a list uses.</summary>
    internal int Next(bool ordered) => ordered ? BulletList + ++_numbered : BulletList;

    internal Numbering Definitions()
    {
        Numbering numbering = new(
            Kind(BulletKind, NumberFormatValues.Bullet, "\u2022"),
            Kind(NumberKind, NumberFormatValues.Decimal, "%1."),
            new NumberingInstance(new AbstractNumId { Val = BulletKind }) { NumberID = BulletList });
        for (int i = 1; i <= _numbered; i++)
        {
            numbering.Append(new NumberingInstance(
                new AbstractNumId { Val = NumberKind },
                new LevelOverride(new StartOverrideNumberingValue { Val = 1 }) { LevelIndex = 0 })
            { NumberID = BulletList + i });
        }
        return numbering;
    }

    private static AbstractNum Kind(int id, NumberFormatValues format, string label) => new(
        new MultiLevelType { Val = MultiLevelValues.SingleLevel },
        new Level(
            new StartNumberingValue { Val = 1 },
            new NumberingFormat { Val = format },
            new LevelText { Val = label },
            new LevelJustification { Val = LevelJustificationValues.Left },
            new PreviousParagraphProperties(new Indentation { Left = "480", Hanging = "280" }))
        { LevelIndex = 0 })
    { AbstractNumberId = id };
}
