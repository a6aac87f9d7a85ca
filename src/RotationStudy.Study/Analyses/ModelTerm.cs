using System.Collections.Immutable;

namespace RotationStudy.Study.Analyses;

/// <summary>A column of a model and what it says in the report.</summary>
/// <param name="Name">Name in the design.</param>
/// <param name="Label">What the estimate's row says, with the step or the codes compared.</param>
/// <param name="Role">exposure, adjustment or interaction.</param>
/// <param name="Measure">Measure that it comes from; the first of the two for an interaction.</param>
/// <param name="Values">One value per row, centred and divided by its step.</param>
internal sealed record ModelTerm(string Name, string Label, string Role, string Measure, ImmutableArray<double> Values);

/// <summary>The terms of a model as built from a table, and what had to be left out.</summary>
/// <param name="Terms">Terms, exposures first.</param>
/// <param name="Omitted">Sentences on adjustment terms and codes that the data cannot speak about.</param>
/// <param name="Blocked">Why the question cannot be answered at all, or null.</param>
internal sealed record ModelTerms(ImmutableArray<ModelTerm> Terms, ImmutableArray<string> Omitted, string? Blocked);
