using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of a measure that is a column as it stands.</summary>
internal static class ValueMeasureRules
{
    internal static ValueNature? Check(ValueMeasure measure, RuleContext context)
    {
        TableDefinition? table = context.Table(measure.Place, "table", measure.Table);
        ColumnDefinition? column = context.Column(measure.Place, "column", table, measure.Column);
        context.Visit(measure.Place, "visit", table, measure.Visit);
        CheckMethod(measure, measure.MethodColumn, measure.Method, table, context);
        CheckGate(measure, measure.HipGate, table, context);
        if (table is null || column is null)
            return null;
        if (table.Column(ColumnRole.Participant) is null)
        {
            context.Fault(
                measure.Place, "table", $"Table '{table.Name}' names no participant, so nothing in it belongs to one.",
                "Name a table of participants.");
            return null;
        }
        if (column.Type == ColumnType.Identifier)
        {
            context.Fault(
                measure.Place, "column", $"Column '{column.Name}' holds identifiers, which are no measure.",
                "Name a column of numbers or codes.");
            return null;
        }
        MeasureRules.SameUnit(measure, column.Unit, context);
        CheckReduction(measure, table, column, context);
        ValueKind kind = column.Type switch
        {
            ColumnType.Code => ValueKind.Code,
            ColumnType.WholeNumber => ValueKind.WholeNumber,
            _ => ValueKind.Number,
        };
        ImmutableArray<string> codes = [.. column.Codes.Select(c => c.Code)];
        return new ValueNature(table.LevelOf(measure.Visit is not null), kind, codes, column.Unit);
    }

    internal static void CheckMethod(MeasureDefinition measure, string? methodColumn, string? method, TableDefinition? table, RuleContext context)
    {
        if (methodColumn is null && method is null)
            return;
        if (methodColumn is null || method is null)
        {
            string missing = method is null ? "method" : "method_column";
            context.Fault(
                measure.Place, method is null ? "method_column" : "method",
                $"Measure '{measure.Id}' lacks '{missing}'.",
                "Name the column of the method and the method to keep.");
            return;
        }
        ColumnDefinition? column = context.CodeColumn(measure.Place, "method_column", table, methodColumn);
        context.Code(measure.Place, "method", column, method);
    }

    internal static void CheckGate(MeasureDefinition measure, bool hipGate, TableDefinition? table, RuleContext context)
    {
        if (!hipGate)
            return;
        if (context.Protocol.Plan.HipGate is null)
        {
            context.Fault(
                measure.Place, "hip_gate", "plan.yaml has no hip-first gate.",
                "Declare 'hip_gate' there, or remove it here.");
        }
        if (table is not null && table.Column(ColumnRole.Visit) is null)
        {
            context.Fault(
                measure.Place, "hip_gate",
                $"Table '{table.Name}' has no visits, so the gate cannot close one.", "Remove 'hip_gate'.");
        }
    }

    /// <summary>Where several rows become one value, the protocol says how; a mean of codes means nothing.</summary>
    private static void CheckReduction(ValueMeasure measure, TableDefinition table, ColumnDefinition column, RuleContext context)
    {
        RowLevel level = table.LevelOf(measure.Visit is not null);
        string[] reduced = [.. table.Key.Where(k => table.Column(k) is { } part && IsReduced(part.Role, level))];
        if (reduced.Length > 0 && !context.Written(measure.Place, "reduction"))
        {
            context.Fault(
                measure.Place, "reduction",
                $"Several rows of '{table.Name}' may belong to one value of '{measure.Id}': they differ in '{reduced[0]}'.",
                "Write reduction: mean, first or last.");
        }
        if (column.Type == ColumnType.Code && context.Written(measure.Place, "reduction") && measure.Reduction == Reduction.Mean)
        {
            context.Fault(
                measure.Place, "reduction", $"Column '{column.Name}' holds codes, which have no mean.",
                "Write reduction: first or last.");
        }
    }

    private static bool IsReduced(ColumnRole role, RowLevel level) => role switch
    {
        ColumnRole.Participant or ColumnRole.Side or ColumnRole.Visit => false,
        ColumnRole.Sequence => level != RowLevel.Sequence,
        _ => true,
    };
}
