namespace RotationStudy.Study.Checks;

/// <summary>A rule that an export is checked against.</summary>
/// <param name="Id">Id of the rule, such as range.possible.</param>
/// <param name="Severity">What a finding of the rule does.</param>
/// <param name="Reason">Why a row or value was left out, a few words; for a rule that leaves nothing out, what was found.</param>
/// <param name="Explanation">What the rule looks at, one or two sentences.</param>
public sealed record CheckRule(string Id, Severity Severity, string Reason, string Explanation)
{
    /// <summary>What stands as the reason of a value that the rule set aside.</summary>
    internal string MissingReason => $"value set aside: {Reason}";

    /// <summary>A finding about a file.</summary>
    internal Finding InFile(string file, string expected, string message) => At(file, 0, null, null, expected, message);

    /// <summary>A finding at a place of a file.</summary>
    internal Finding At(
        string file, int line, string? column, string? value, string expected, string message, string? participant = null, string? site = null)
        => new(Id, Severity, file, line, column, value, expected, message, participant, site);
}
