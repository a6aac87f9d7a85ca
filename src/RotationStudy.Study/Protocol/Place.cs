namespace RotationStudy.Study.Protocol;

/// <summary>Where something stands in a text file; line and column count from 1.</summary>
/// <param name="File">File name relative to the folder that was read, with forward slashes.</param>
/// <param name="Line">Line, from 1.</param>
/// <param name="Column">Column, from 1.</param>
public readonly record struct Place(string File, int Line, int Column)
{
    /// <summary>The usual form file:line:column.</summary>
    public override string ToString() => FormattableString.Invariant($"{File}:{Line}:{Column}");
}
