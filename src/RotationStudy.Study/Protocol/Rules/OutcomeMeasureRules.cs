namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of questionnaire scores, their change, and flags for the clinical team.</summary>
internal static class OutcomeMeasureRules
{
    internal static ValueNature? Check(OutcomeScoreMeasure measure, RuleContext context)
    {
        TableDefinition? table = context.Table(measure.Place, "table", measure.Table);
        context.Visit(measure.Place, "visit", table, measure.Visit);
        if (measure.Column is null == measure.Items is null)
            context.Fault(measure.Place, "column", $"Score '{measure.Id}' needs a column of totals or items, and not both.", "Give 'column' or 'items'.");
        if (measure.Column is { } total)
            CheckTotal(measure, total, table, context);
        if (measure.Items is { } items)
            CheckItems(measure, items, table, context);
        if (measure.Range.Lowest >= measure.Range.Highest)
            context.Fault(measure.Place, "range.lowest", "The range of the score runs downwards.", "Write the lower value as 'lowest'.");
        foreach ((string key, ChangeValue? change) in new[] { ("detectable_change", measure.DetectableChange), ("important_change", measure.ImportantChange) })
        {
            if (change is not null && !(change.Points > 0 && change.Points <= measure.Range.Highest - measure.Range.Lowest))
                context.Fault(measure.Place, $"{key}.points", "The change does not fit into the range of the score.", "Write points above 0, within the range.");
        }
        if (table is null)
            return null;
        if (table.Key.Select(table.Column).FirstOrDefault(c => c?.Role is ColumnRole.Rater or ColumnRole.Day or ColumnRole.Value or ColumnRole.Sequence) is { } part)
        {
            context.Fault(
                measure.Place, "table", $"Several rows of '{table.Name}' may belong to one score: they differ in '{part.Name}'.",
                "A score is made of one row; take the column out of the table's key.");
        }
        return new ValueNature(context.Protocol.LevelOf(measure), ValueKind.Number, [], measure.Unit);
    }

    internal static ValueNature? Check(MeaningfulChangeMeasure measure, RuleContext context)
    {
        ValueNature? from = Score(measure, "from", measure.From, context);
        ValueNature? to = Score(measure, "to", measure.To, context);
        if (from is null || to is null)
            return null;
        OutcomeScoreMeasure first = (OutcomeScoreMeasure)context.Protocol.Measure(measure.From);
        OutcomeScoreMeasure second = (OutcomeScoreMeasure)context.Protocol.Measure(measure.To);
        if (first.Range != second.Range || first.Direction != second.Direction || first.DetectableChange != second.DetectableChange || from.Level != to.Level)
        {
            context.Fault(
                measure.Place, "to", $"'{measure.From}' and '{measure.To}' are not the same score at two visits.",
                "Give both the same rows, range, direction and changes.");
        }
        if ((second.DetectableChange ?? second.ImportantChange) is null)
            context.Fault(measure.Place, "to", $"Score '{measure.To}' declares no smallest change.", "Give it 'detectable_change' with its source.");
        MeasureRules.SameUnit(measure, null, context);
        return to with { Kind = ValueKind.Code, Codes = [.. ChangeWords.Labels], Unit = null };
    }

    internal static ValueNature? Check(ClinicalFlagMeasure measure, RuleContext context)
    {
        bool known = true;
        for (int i = 0; i < measure.Conditions.Length; i++)
        {
            FlagCondition condition = measure.Conditions[i];
            ValueNature? nature = context.MeasureAbove(measure, $"conditions[{i}].measure", condition.Measure);
            known &= nature is not null;
            if (nature is null)
                continue;
            if (condition.AtLeast is not null && !nature.IsNumeric)
                context.Fault(measure.Place, $"conditions[{i}].measure", $"'{condition.Measure}' holds no numbers.", "Use 'is' with a code.");
            if (condition.Code is { } code && !nature.Codes.Contains(code))
            {
                context.Fault(
                    measure.Place, $"conditions[{i}].is", $"Measure '{condition.Measure}' has no code '{code}'.",
                    Reading.NearestName.Hint(code, nature.Codes));
            }
        }
        return known && measure.Conditions.Length > 0
            ? new ValueNature(context.Protocol.LevelOf(measure), ValueKind.YesNo, [], null)
            : null;
    }

    private static void CheckTotal(OutcomeScoreMeasure measure, string name, TableDefinition? table, RuleContext context)
    {
        if (context.Column(measure.Place, "column", table, name) is not { } column)
            return;
        if (!ColumnRules.IsNumeric(column))
            context.Fault(measure.Place, "column", $"Column '{name}' holds no numbers.", "Name the column of totals.");
        else if (column.Possible != measure.Range)
        {
            context.Fault(
                measure.Place, "range", $"The range of the score is not the possible range of column '{name}'.",
                "Write the same lowest and highest in both, so that no total can lie outside.");
        }
        else
            MeasureRules.SameUnit(measure, column.Unit, context);
    }

    private static void CheckItems(OutcomeScoreMeasure measure, ItemRule items, TableDefinition? table, RuleContext context)
    {
        for (int i = 0; i < items.Columns.Length; i++)
        {
            string path = $"items.columns[{i}]";
            if (context.Column(measure.Place, path, table, items.Columns[i]) is { } column && column.Possible != items.Range)
                context.Fault(measure.Place, path, $"The points of '{column.Name}' do not have the range of the items.", "Give the column the same possible range.");
        }
        context.Unique(items.Columns.Select((c, i) => (c, measure.Place, $"items.columns[{i}]")), "item");
        if (items.AtLeastAnswered < 1 || items.AtLeastAnswered > items.Columns.Length)
        {
            context.Fault(
                measure.Place, "items.at_least_answered", $"The score has {items.Columns.Length} items.",
                "Write how many of them must be answered, 1 or more.");
        }
    }

    private static ValueNature? Score(MeaningfulChangeMeasure measure, string path, string id, RuleContext context)
    {
        if (context.MeasureAbove(measure, path, id) is not { } nature)
            return null;
        if (context.Protocol.Measures.First(m => m.Id == id) is OutcomeScoreMeasure)
            return nature;
        context.Fault(measure.Place, path, $"'{id}' is no outcome score.", "Name a measure of kind outcome_score.");
        return null;
    }
}
