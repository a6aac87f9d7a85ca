using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>What kind of values a measure has.</summary>
internal enum ValueKind
{
    /// <summary>Real numbers.</summary>
    Number,

    /// <summary>Whole numbers from a column or a count.</summary>
    WholeNumber,

    /// <summary>1 or 0 by construction.</summary>
    YesNo,

    /// <summary>Codes or named groups.</summary>
    Code,
}

/// <summary>What the rules need to know of a measure.</summary>
/// <param name="Level">What its rows are.</param>
/// <param name="Kind">Kind of its values.</param>
/// <param name="Codes">Codes, or labels of groups; empty for numbers.</param>
/// <param name="Unit">Unit of the values.</param>
internal sealed record ValueNature(RowLevel Level, ValueKind Kind, ImmutableArray<string> Codes, string? Unit)
{
    internal bool IsNumeric => Kind is ValueKind.Number or ValueKind.WholeNumber;

    /// <summary>Whether the values can be read as an event or none: 1 and 0, or two codes of which the second is the event.</summary>
    internal bool IsYesNo => Kind == ValueKind.YesNo || (Kind == ValueKind.Code && Codes.Length == 2);

    internal bool IsGrouping => Kind is ValueKind.Code or ValueKind.YesNo;

    /// <summary>The level in words, for messages.</summary>
    internal static string Words(RowLevel level) => level switch
    {
        RowLevel.Participant => "participant",
        RowLevel.Unit => "side",
        RowLevel.Visit => "participant and visit",
        RowLevel.UnitVisit => "side and visit",
        RowLevel.Week => "participant and week",
        _ => "participant and running number",
    };
}
