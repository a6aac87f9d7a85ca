using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Analyses;

/// <summary>Turns exposures, adjustment and interactions into model columns: numbers centred and scaled, codes against their reference.</summary>
internal static class TermBuilder
{
    internal static ModelTerms Build(QuestionDefinition question, AnalysisTable table)
    {
        List<string> omitted = [];
        List<ModelTerm> terms = [];
        foreach (ExposureTerm exposure in question.Exposures)
            terms.AddRange(Columns(table[exposure.Measure], exposure.Per, exposure.Center, exposure.Reference, "exposure", omitted));
        ModelTerm[] still = [.. terms.Where(t => IsConstant(t.Values))];
        string? blocked = table.Rows > 0 && still.Length > 0
            ? $"{still[0].Label} has the same value in every row, so the data cannot speak about it"
            : null;
        foreach (AdjustmentTerm adjustment in question.Adjustment)
        {
            foreach (ModelTerm term in Columns(table[adjustment.Measure], adjustment.Per, adjustment.Center, adjustment.Reference, "adjustment", omitted))
            {
                if (IsConstant(term.Values))
                    omitted.Add($"{term.Label} has the same value in every row and was left out of the model; the other estimates are unchanged by this.");
                else
                    terms.Add(term);
            }
        }
        foreach (InteractionTerm interaction in question.Interactions)
            terms.AddRange(Products(terms, interaction));
        return new ModelTerms([.. terms], [.. omitted], blocked);
    }

    /// <summary>Every column that the plan makes, whatever the rows hold: what several tables must agree on.</summary>
    internal static ImmutableArray<ModelTerm> EveryColumn(QuestionDefinition question, AnalysisTable table)
    {
        List<ModelTerm> terms =
        [
            .. question.Exposures.SelectMany(e => Columns(table[e.Measure], e.Per, e.Center, e.Reference, "exposure", null)),
            .. question.Adjustment.SelectMany(a => Columns(table[a.Measure], a.Per, a.Center, a.Reference, "adjustment", null)),
        ];
        foreach (InteractionTerm interaction in question.Interactions)
            terms.AddRange(Products(terms, interaction).ToArray());
        return [.. terms];
    }

    /// <summary>Name of the product of two columns.</summary>
    internal static string NameOfProduct(ModelTerm first, ModelTerm second) => $"{first.Name} x {second.Name}";

    private static bool IsConstant(ImmutableArray<double> values)
    {
        foreach (double value in values)
        {
            if (value != values[0])
                return false;
        }
        return true;
    }

    private static IEnumerable<ModelTerm> Columns(TableColumn column, double per, double center, string? reference, string role, List<string>? omitted)
    {
        MeasureDefinition definition = column.Measure.Definition;
        if (!column.Measure.IsCoded)
        {
            string label = definition.Unit is null && per == 1 && column.Values.All(v => v is 0 or 1) ? $"{definition.Label}: yes against no" : Labels.WithStep(definition, per);
            yield return new ModelTerm(
                definition.Id, label, role, definition.Id,
                [.. column.Values.Select(v => (v - center) / per)]);
            yield break;
        }
        ImmutableArray<CodeDefinition> codes = column.Measure.Codes;
        int against = reference is null ? 0 : codes.ToList().FindIndex(c => c.Code == reference);
        for (int code = 0; code < codes.Length; code++)
        {
            if (code == against)
                continue;
            if (omitted is not null && !column.Values.Contains(code))
            {
                omitted.Add($"{definition.Label}: nobody has '{codes[code].Meaning}', so it has no estimate.");
                continue;
            }
            int here = code;
            yield return new ModelTerm(
                $"{definition.Id}: {codes[code].Code}",
                $"{definition.Label}: {codes[code].Meaning} against {codes[against].Meaning}",
                role, definition.Id,
                [.. column.Values.Select(v => v == here ? 1.0 : 0.0)]);
        }
    }

    private static IEnumerable<ModelTerm> Products(List<ModelTerm> terms, InteractionTerm interaction)
    {
        foreach (ModelTerm first in terms.Where(t => t.Measure == interaction.First && t.Role != "interaction").ToArray())
        {
            foreach (ModelTerm second in terms.Where(t => t.Measure == interaction.Second && t.Role != "interaction").ToArray())
            {
                yield return new ModelTerm(
                    NameOfProduct(first, second), $"{first.Label} × {second.Label}", "interaction", first.Measure,
                    [.. first.Values.Zip(second.Values, (a, b) => a * b)]);
            }
        }
    }
}

/// <summary>Labels with units and steps.</summary>
internal static class Labels
{
    private const double DaysPerYear = 365.25;

    internal static string WithStep(MeasureDefinition measure, double per)
    {
        string step = per.ToString("0.####", CultureInfo.InvariantCulture);
        return measure.Unit is null
            ? $"{measure.Label}, per {step} {(per == 1 ? "point" : "points")}"
            : measure.Unit == "days" && per == DaysPerYear ? $"{measure.Label}, per year"
            : per == 1 ? $"{measure.Label}, per {Singular(measure.Unit)}" : $"{measure.Label}, per {step} {measure.Unit}";
    }

    internal static string WithUnit(MeasureDefinition measure)
        => measure.Unit is null ? measure.Label : $"{measure.Label} ({measure.Unit})";

    private static string Singular(string unit)
        => unit.EndsWith('s') ? unit[..^1] : unit;
}
