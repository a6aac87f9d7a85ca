namespace RotationStudy.Study.Checks;

/// <summary>What a finding does.</summary>
public enum Severity
{
    /// <summary>The run ends before anything is analysed.</summary>
    Stop,

    /// <summary>The row or the value is left out, with this finding as the reason.</summary>
    SetAside,

    /// <summary>The value is used and the site is asked.</summary>
    AskTheSite,

    /// <summary>Worth knowing.</summary>
    Note,
}

/// <summary>Something a check has to say about an export, gathered and never thrown.</summary>
/// <param name="Rule">Id of the rule, such as range.possible.</param>
/// <param name="Severity">What it does.</param>
/// <param name="File">File name in the export.</param>
/// <param name="Line">Line in the file, from 1 (the header is line 1); 0 for the whole file.</param>
/// <param name="Column">Column name; null for the whole row or file.</param>
/// <param name="Value">The value as the export writes it; null where none is to blame, or where it must not be repeated.</param>
/// <param name="Expected">What was expected.</param>
/// <param name="Message">A sentence that the site can act on.</param>
/// <param name="Participant">Identifier of the participant, where the row has one.</param>
/// <param name="Site">Site of the participant, where known.</param>
public sealed record Finding(
    string Rule,
    Severity Severity,
    string File,
    int Line,
    string? Column,
    string? Value,
    string Expected,
    string Message,
    string? Participant,
    string? Site)
{
    /// <summary>Key of the row within its file, its parts as the export writes them; null where the finding is about no row.</summary>
    public string? Key { get; init; }
}
