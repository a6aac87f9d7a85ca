namespace RotationStudy.Study.Checks.Cells;

/// <summary>What one text of a column comes to. It depends on the text and the column alone, so equal cells are judged once.</summary>
/// <param name="Number">Value of a number.</param>
/// <param name="Code">Position of a code.</param>
/// <param name="Identifier">Text of an identifier; empty otherwise.</param>
/// <param name="Missing">Why there is no value; null when there is one.</param>
/// <param name="Objection">What a rule has to say, or null.</param>
internal readonly record struct Verdict(double Number, int Code, string Identifier, string? Missing, Objection? Objection)
{
    internal bool HasValue => Missing is null;

    /// <summary>Whether two cells say the same, however they are written: 1 and 1.0, or two values set aside for one reason.</summary>
    internal bool SaysTheSameAs(in Verdict other)
        => Number.Equals(other.Number) && Code == other.Code && Identifier == other.Identifier && Missing == other.Missing;

    internal static Verdict OfNumber(double value, Objection? objection) => new(value, 0, string.Empty, null, objection);

    internal static Verdict OfCode(int position) => new(0, position, string.Empty, null, null);

    internal static Verdict OfIdentifier(string text) => new(0, 0, text, null, null);

    internal static Verdict NoValue(string reason) => new(0, 0, string.Empty, reason, null);

    internal static Verdict SetAside(CheckRule rule, string expected, string what)
        => new(0, 0, string.Empty, rule.MissingReason, new Objection(rule, expected, what));
}

/// <summary>What a rule has to say about a text.</summary>
/// <param name="Rule">The rule.</param>
/// <param name="Expected">What was expected.</param>
/// <param name="What">What is wrong, one or two sentences without the consequence.</param>
internal sealed record Objection(CheckRule Rule, string Expected, string What);
