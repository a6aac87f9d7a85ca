using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>By what participants could be recognised without a name, and how many must look alike.</summary>
/// <param name="SmallestGroup">Participants who must share each combination that occurs (k of k-anonymity); at least 2.</param>
/// <param name="QuasiIdentifiers">Columns of the roster by which somebody could be recognised.</param>
public sealed record Deidentification(int SmallestGroup, ImmutableArray<QuasiIdentifier> QuasiIdentifiers);

/// <summary>A column by which somebody could be recognised together with others.</summary>
/// <param name="Column">Column of the roster.</param>
/// <param name="Width">Width of the groups of a number, in its unit, counted from 0; 0 for codes.</param>
public sealed record QuasiIdentifier(string Column, double Width);
