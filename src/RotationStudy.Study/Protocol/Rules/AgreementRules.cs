namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of a question of agreement: readings of numbers by several raters or sessions, and a reference in the same unit.</summary>
internal static class AgreementRules
{
    internal static void Check(QuestionDefinition question, RuleContext context)
    {
        if (question.Readings is not { } readings)
            return;
        TableDefinition? table = context.Table(question.Place, "readings.table", readings.Table);
        ColumnDefinition? column = context.Column(question.Place, "readings.column", table, readings.Column);
        if (column is not null && !ColumnRules.IsNumeric(column))
        {
            context.Fault(
                question.Place, "readings.column", $"Column '{column.Name}' holds no numbers.",
                "Name a column of numbers; codes agree by kappa, which a plan cannot ask for yet.");
        }
        if (table is not null && table.Column(ColumnRole.Rater) is null && table.Column(ColumnRole.Visit) is null)
        {
            context.Fault(
                question.Place, "readings.table", $"Table '{table.Name}' has neither raters nor visits, so nothing is read twice.",
                "Name a table with one row per rater or session.");
        }
        bool sides = table?.Column(ColumnRole.Side) is not null;
        if (table is not null && question.Rows != (sides ? RowLevel.Unit : RowLevel.Participant))
        {
            context.Fault(
                question.Place, "rows", $"A reading of '{table.Name}' belongs to a {(sides ? "side" : "participant")}.",
                $"Write rows: {(sides ? "unit" : "participant")}.");
        }
        if (QuestionRules.Covering(question, "reference", question.Reference, context) is { } reference
            && (!reference.IsNumeric || (column is not null && reference.Unit != column.Unit)))
        {
            context.Fault(
                question.Place, "reference", $"'{question.Reference}' is not in the unit of the readings.",
                "Name a measure of numbers in the same unit.");
        }
    }
}
