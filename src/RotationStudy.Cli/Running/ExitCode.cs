namespace RotationStudy.Cli.Running;

/// <summary>What the program tells the shell.</summary>
internal enum ExitCode
{
    /// <summary>All was done.</summary>
    Done = 0,

    /// <summary>The command line was not understood.</summary>
    Usage = 1,

    /// <summary>The protocol or the scenario has faults.</summary>
    ProtocolFaults = 2,

    /// <summary>The export has findings that stop a run.</summary>
    ExportFindings = 3,

    /// <summary>A file or folder cannot be read or written.</summary>
    Files = 4,

    /// <summary>The report is written, but a planned question could not be answered.</summary>
    QuestionUnanswered = 5,

    /// <summary>A run folder is not as its record says.</summary>
    RunChanged = 6,

    /// <summary>A second run of the same exports gave other bytes.</summary>
    NotReproduced = 7,

    /// <summary>With the new exports a conclusion is another one.</summary>
    ConclusionChanged = 8,
    /// <summary>A site does not hand out the sums asked for, or files of sites do not fit together.</summary>
    SharingRefused = 9,

    /// <summary>A defect of the program.</summary>
    Defect = 70,

    /// <summary>Interrupted by the user.</summary>
    Interrupted = 130,
}
