namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of what a measure says beside its definition: a signed value says its sign, a norm exists, methods are kept apart.</summary>
internal static class BackgroundRules
{
    /// <summary>Rules of the list of columns whose values depend on a method.</summary>
    internal static void CheckMethods(RuleContext context)
    {
        foreach (MethodDistinction distinction in context.Protocol.Methods)
        {
            TableDefinition? table = context.Table(distinction.Place, "table", distinction.Table);
            context.Column(distinction.Place, "column", table, distinction.Column);
            context.CodeColumn(distinction.Place, "method_column", table, distinction.MethodColumn);
        }
        context.Unique(context.Protocol.Methods.Select(d => ($"{d.Table}.{d.Column}", d.Place, "column")), "method distinction of");
    }

    internal static void Check(MeasureDefinition measure, RuleContext context)
    {
        if (measure.Background.Norm is { } id && measure is not NormMeasure)
            NormRules.Check(measure, id, measure.Unit, context);
        switch (measure)
        {
            case ValueMeasure value:
                CheckSign(value, context);
                CheckPooling(measure, value.Table, value.Column, value.MethodColumn, context);
                break;
            case ChangePerYearMeasure change:
                CheckPooling(measure, change.Table, change.Column, change.MethodColumn, context);
                break;
            case GradeMeasure grade:
                CheckPooling(measure, grade.Value.Table, grade.Value.Column, grade.Value.MethodColumn, context);
                break;
            case PairMeasure pair:
                CheckPair(pair, context);
                break;
        }
    }

    /// <summary>An angle or a distance that may be negative has a direction, and two clinics may count it two ways.</summary>
    private static void CheckSign(ValueMeasure measure, RuleContext context)
    {
        ColumnDefinition? column = context.Protocol.Tables.FirstOrDefault(t => t.Name == measure.Table)?.Column(measure.Column);
        if (measure.Unit is "degrees" or "mm" && column?.Possible?.Lowest < 0 && measure.Background.Sign is null)
        {
            context.Fault(
                measure.Place, "sign", $"Measure '{measure.Id}' may be negative, but does not say which direction is positive.",
                "Write 'sign', such as 'Outward positive.'");
        }
    }

    private static void CheckPooling(MeasureDefinition measure, string table, string column, string? methodColumn, RuleContext context)
    {
        MethodDistinction? distinction = context.Protocol.Methods.FirstOrDefault(d => d.Table == table && d.Column == column);
        if (distinction is null || measure.Background.PoolsMethodsBecause is not null || methodColumn == distinction.MethodColumn)
            return;
        context.Fault(
            measure.Place, "column", $"Measure '{measure.Id}' would pool values of different methods: '{column}' depends on '{distinction.MethodColumn}'.",
            $"Write method_column: {distinction.MethodColumn} and the method to keep, or 'pools_methods_because' with the reason, which is printed.");
    }

    private static void CheckPair(PairMeasure pair, RuleContext context)
    {
        (MeasureDefinition? first, MeasureDefinition? second) = (Root(pair.First, context), Root(pair.Second, context));
        if (first is ValueMeasure a && second is ValueMeasure b && a.Table == b.Table && a.Column == b.Column && a.Method != b.Method
            && pair.Background.PoolsMethodsBecause is null)
        {
            context.Fault(
                pair.Place, "second", $"'{pair.First}' and '{pair.Second}' are of different methods ('{a.Method}' and '{b.Method}').",
                "Values of different methods are not combined; name two measures of one method.");
        }
        if (first is CriteriaScoreMeasure s && second is CriteriaScoreMeasure t && s.Id != t.Id && pair.Operation != PairOperation.Difference)
        {
            context.Fault(
                pair.Place, "second", $"'{pair.First}' and '{pair.Second}' are scores of different definitions.",
                "They are never pooled; read each by itself, or take the difference.");
        }
    }

    /// <summary>The recorded value or score that a measure is made of, or null where it is made of several.</summary>
    internal static MeasureDefinition? Root(string id, RuleContext context)
    {
        MeasureDefinition? measure = context.Protocol.Measures.FirstOrDefault(m => m.Id == id);
        // A measure refers to measures above only; where that is a fault, the walk ends after as many steps as there are measures.
        for (int step = 0; step < context.Protocol.Measures.Length && measure is not null; step++)
        {
            string? of = measure switch
            {
                NormMeasure m => m.Of,
                SideDifferenceMeasure m => m.Of,
                SideMeanMeasure m => m.Of,
                GroupsMeasure m => m.Of,
                ScoreBoundMeasure m => m.Of,
                _ => null,
            };
            if (of is null)
                return measure;
            measure = context.Protocol.Measures.FirstOrDefault(m => m.Id == of);
        }
        return null;
    }
}
