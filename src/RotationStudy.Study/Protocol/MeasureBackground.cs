using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>What a reader must know of a measure beside its definition; every part is optional but signed angles and lengths must say their sign.</summary>
/// <param name="Position">How the person lies, sits, stands or walks.</param>
/// <param name="Sign">Which direction is positive.</param>
/// <param name="Technique">Instrument, landmarks, number of trials.</param>
/// <param name="Reliability">Published error of measurement.</param>
/// <param name="Limits">What the measure cannot say.</param>
/// <param name="Norm">Id of the norm that it is read against; null for none.</param>
/// <param name="PoolsMethodsBecause">Why values of different methods are pooled, which is printed; null where they are kept apart.</param>
public sealed record MeasureBackground(
    string? Position, string? Sign, string? Technique, ImmutableArray<ReliabilityFact> Reliability, string? Limits, string? Norm,
    string? PoolsMethodsBecause)
{
    /// <summary>Nothing said.</summary>
    public static MeasureBackground None { get; } = new(null, null, null, [], null, null, null);
}

/// <summary>A published value of the error of a measure.</summary>
/// <param name="Says">What was found, with the number.</param>
/// <param name="Source">Publication.</param>
/// <param name="Evidence">How well the value is known.</param>
public sealed record ReliabilityFact(string Says, string Source, Evidence Evidence);

/// <summary>A column whose values depend on a method recorded beside it, so that values of different methods are never pooled silently.</summary>
/// <param name="Table">Table.</param>
/// <param name="Column">Column of the values.</param>
/// <param name="MethodColumn">Code column of the method.</param>
/// <param name="Reason">Why the method matters, with a source.</param>
/// <param name="Place">Where it is declared.</param>
public sealed record MethodDistinction(string Table, string Column, string MethodColumn, string Reason, Place Place);
