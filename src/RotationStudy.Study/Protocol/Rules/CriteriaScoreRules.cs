namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of a score that counts the components that meet their criterion.</summary>
internal static class CriteriaScoreRules
{
    internal static ValueNature? Check(CriteriaScoreMeasure measure, RuleContext context)
    {
        TableDefinition? table = context.Table(measure.Place, "table", measure.Table);
        context.Visit(measure.Place, "visit", table, measure.Visit);
        for (int i = 0; i < measure.Components.Length; i++)
            CheckComponent(measure, measure.Components[i], i, table, context);
        context.Unique(measure.Components.Select((c, i) => (c.Column, measure.Place, $"components[{i}].column")), "component");
        if (table is null)
            return null;
        if (table.Key.Select(table.Column).FirstOrDefault(c => c?.Role is ColumnRole.Rater or ColumnRole.Day or ColumnRole.Value) is { } part)
        {
            context.Fault(
                measure.Place, "table",
                $"Several rows of '{table.Name}' may belong to one score: they differ in '{part.Name}'.",
                "A score is made of one row; take the column out of the table's key.");
        }
        return new ValueNature(table.LevelOf(measure.Visit is not null), ValueKind.WholeNumber, [], measure.Unit);
    }

    private static void CheckComponent(CriteriaScoreMeasure measure, ScoreComponent component, int i, TableDefinition? table, RuleContext context)
    {
        string path = $"components[{i}].column";
        if (component.Test == ComponentTest.Is)
        {
            ColumnDefinition? coded = context.CodeColumn(measure.Place, path, table, component.Column);
            context.Code(measure.Place, $"components[{i}].code", coded, component.Code!);
            return;
        }
        if (context.Column(measure.Place, path, table, component.Column) is not { } column)
            return;
        if (!ColumnRules.IsNumeric(column))
        {
            context.Fault(
                measure.Place, path, $"Column '{column.Name}' holds no numbers to compare with a threshold.",
                "Use test: is with a code.");
        }
        else if (column.Possible?.Holds(component.Threshold) == false)
        {
            context.Fault(
                measure.Place, $"components[{i}].threshold",
                $"The threshold lies outside the possible values of '{column.Name}'.",
                "Check threshold and range.");
        }
    }
}
