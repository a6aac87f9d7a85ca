namespace RotationStudy.Study.Protocol;

/// <summary>How well a published value is known to whoever wrote it into a protocol.</summary>
public enum Evidence
{
    /// <summary>Read in a stored copy or abstract of the source.</summary>
    ReadInCopy,

    /// <summary>Recalled from a published source that was not read again.</summary>
    Recalled,

    /// <summary>What the field does; no source.</summary>
    CommonPractice,

    /// <summary>Worked out from other values by a stated rule.</summary>
    ByArithmetic,
}

/// <summary>The grades of evidence in words.</summary>
public static class EvidenceWords
{
    /// <summary>The words that stand behind a source.</summary>
    public static string Words(this Evidence evidence) => evidence switch
    {
        Evidence.ReadInCopy => "read in a stored copy",
        Evidence.Recalled => "recalled, not re-read",
        Evidence.CommonPractice => "common practice, no source",
        Evidence.ByArithmetic => "by arithmetic",
        _ => throw new ArgumentOutOfRangeException(nameof(evidence)),
    };
}
