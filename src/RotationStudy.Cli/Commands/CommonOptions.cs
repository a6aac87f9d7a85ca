using System.CommandLine;

namespace RotationStudy.Cli.Commands;

/// <summary>Options that mean the same in several commands.</summary>
internal static class CommonOptions
{
    /// <summary>A list of those who withdrew consent.</summary>
    internal static Option<string?> Withdrawn() => new("--withdrawn")
    {
        HelpName = "file",
        Description = "Identifiers of those who withdrew consent, one a line: removed before anything is looked at (withdrawn.txt in the protocol folder is read without being named)",
    };

    /// <summary>The query list of an earlier export.</summary>
    internal static Option<string?> Previous() => new("--previous")
    {
        HelpName = "file",
        Description = "Earlier query list (CSV or XLSX): each query says whether it is new, open, changed or answered since",
    };
}
