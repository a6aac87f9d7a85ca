using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of norms: rows that do not overlap, spreads that are spreads, and only values of the norm's unit and method read against them.</summary>
internal static class NormRules
{
    internal static void CheckAll(RuleContext context)
    {
        foreach (Norm norm in context.Protocol.Norms)
        {
            context.PlainName(norm.Id, norm.Place, "id");
            if (norm.Unit is { } unit && !Units.All.Contains(unit))
                context.Fault(norm.Place, "unit", $"Unknown unit '{unit}'.", NearestName.Hint(unit, Units.All));
            for (int i = 0; i < norm.Rows.Length; i++)
                CheckRow(norm, i, context);
        }
    }

    /// <summary>Whether a measure may be read against a norm.</summary>
    /// <param name="measure">The measure that names the norm.</param>
    /// <param name="id">Id of the norm.</param>
    /// <param name="unit">Unit of the values read.</param>
    /// <param name="context">Where names are looked up.</param>
    internal static Norm? Check(MeasureDefinition measure, string id, string? unit, RuleContext context)
    {
        if (id.Length == 0)
            return null;
        Norm? norm = context.Protocol.Norms.FirstOrDefault(n => n.Id == id);
        if (norm is null)
        {
            context.Fault(
                measure.Place, "norm", $"No norm is called '{id}'.",
                context.Protocol.Norms.IsEmpty ? "Put it into the folder norms." : NearestName.Hint(id, [.. context.Protocol.Norms.Select(n => n.Id)]));
            return null;
        }
        if (norm.Unit != unit)
        {
            context.Fault(
                measure.Place, "norm", $"The norm '{id}' is in {norm.Unit ?? "no unit"}, the values are in {unit ?? "no unit"}.",
                "Name a norm of the same unit.");
        }
        CheckMethod(measure, norm, context);
        return norm;
    }

    private static void CheckMethod(MeasureDefinition measure, Norm norm, RuleContext context)
    {
        string? method = MethodOf(measure is NormMeasure m ? BackgroundRules.Root(m.Of, context) : measure);
        if (method == norm.MethodCode || measure.Background.PoolsMethodsBecause is not null)
            return;
        context.Fault(
            measure.Place, "norm",
            norm.MethodCode is null
                ? $"The norm '{norm.Id}' names no method, but the values are of method '{method}'."
                : $"The norm '{norm.Id}' holds for method '{norm.MethodCode}', but the values are of {(method is null ? "no named method" : $"method '{method}'")}.",
            "Values are read against a norm of their own method only; 'pools_methods_because' gives a reason otherwise, which is printed.");
    }

    private static string? MethodOf(MeasureDefinition? measure) => measure switch
    {
        ValueMeasure m => m.Method,
        ChangePerYearMeasure m => m.Method,
        GradeMeasure m => m.Value.Method,
        ConvertedMeasure m => m.Relation.ToMethod,
        _ => null,
    };

    private static void CheckRow(Norm norm, int at, RuleContext context)
    {
        NormRow row = norm.Rows[at];
        if (row.AgeFrom >= row.AgeTo)
            context.Fault(norm.Place, $"rows[{at}].age_to", "The ages of the row end before they begin.", "Let age_from be below age_to; age_to itself is excluded.");
        if (row.Lowest >= row.Mean || row.Highest <= row.Mean)
            context.Fault(norm.Place, $"rows[{at}].mean", "The mean must lie inside the spread.", "Check mean and spread.");
        if (row.N < 1)
            context.Fault(norm.Place, $"rows[{at}].n", "A norm rests on at least one value.", "Check n, or leave it out.");
        if (norm.Rows.Take(at).Any(r => r.AgeFrom < row.AgeTo && row.AgeFrom < r.AgeTo && (r.Sex is null || row.Sex is null || r.Sex == row.Sex)))
            context.Fault(norm.Place, $"rows[{at}].age_from", "The row overlaps a row above for the same sex.", "Give each age one row; age_to itself is excluded.");
    }
}
