using RotationStudy.Statistics.Curves;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of curves over an arc: where they stand, what is taken from them, and which groups are compared.</summary>
internal static class CurveRules
{
    /// <summary>Rules of a question of kind curves.</summary>
    internal static void Check(QuestionDefinition question, RuleContext context)
    {
        if (question.Curves is not { } curves)
            return;
        TableDefinition? table = CheckColumns(curves, question.Place, "curves.", context);
        if (table is not null)
        {
            RowLevel level = table.LevelOf(oneVisit: true);
            if (question.Rows != level)
            {
                context.Fault(
                    question.Place, "rows", $"A curve of '{table.Name}' belongs to a {ValueNature.Words(level)}.",
                    $"Write rows: {(level == RowLevel.Unit ? "unit" : "participant")}.");
            }
        }
        if (QuestionRules.Covering(question, "group_by", question.GroupBy, context) is { Kind: ValueKind.Code } group && group.Codes.Length != 2)
        {
            context.Fault(
                question.Place, "group_by", $"'{question.GroupBy}' makes {group.Codes.Length} groups; curves are compared between two.",
                "Name a measure of two codes or groups, or of kind any_event.");
        }
        for (int i = 0; i < question.Summaries.Length; i++)
        {
            if (QuestionRules.Covering(question, $"summaries[{i}]", question.Summaries[i], context) is { IsNumeric: false })
                context.Fault(question.Place, $"summaries[{i}]", $"'{question.Summaries[i]}' holds no numbers.", "Name a measure of kind curve_summary.");
        }
        context.Unique(question.Summaries.Select((s, i) => (s, question.Place, $"summaries[{i}]")), "summary");
        if (!question.Summaries.IsEmpty && question.GroupBy is null)
            context.Fault(question.Place, "summaries", "Summaries are compared between groups, and there are none.", "Write 'group_by', or leave 'summaries' out.");
    }

    /// <summary>Rules of a measure of kind curve_summary.</summary>
    internal static ValueNature? Check(CurveSummaryMeasure measure, RuleContext context)
    {
        TableDefinition? table = CheckColumns(measure.Curves, measure.Place, string.Empty, context);
        bool slopeOrSpan = measure.Feature is CurveFeature.Slope or CurveFeature.Span;
        if (measure.To < measure.From || (slopeOrSpan && measure.To == measure.From))
            context.Fault(measure.Place, "to", "The arc has no length.", slopeOrSpan ? "Give an end beyond the start." : "Give an end at or beyond the start.");
        if (table?.Column(measure.Curves.Column) is not { } column || table.Column(measure.Curves.Over) is not { } over)
            return null;
        if (over.Possible is { } possible && (measure.From < possible.Lowest || measure.To > possible.Highest))
            context.Fault(measure.Place, measure.From < possible.Lowest ? "from" : "to", $"'{over.Name}' goes from {possible.Lowest} to {possible.Highest}.", "Stay within the possible values of the arc.");
        string? unit = measure.Feature == CurveFeature.Slope ? SlopeUnit(column.Unit, over.Unit) : column.Unit;
        MeasureRules.SameUnit(measure, unit, context);
        return new ValueNature(context.Protocol.LevelOf(measure), ValueKind.Number, [], unit);
    }

    /// <summary>The unit of a slope, such as "mm per degree".</summary>
    internal static string? SlopeUnit(string? value, string? over)
        => value is null || over is null ? null : $"{value} per {(over.EndsWith('s') ? over[..^1] : over)}";

    private static TableDefinition? CheckColumns(CurveColumn curves, Place place, string prefix, RuleContext context)
    {
        TableDefinition? table = context.Table(place, prefix + "table", curves.Table);
        Numeric(curves.Column, "column", "The values of a curve are numbers.");
        Numeric(curves.Over, "over", "The arc of a curve is made of numbers.");
        if (curves.Trial is { } trial)
            context.Column(place, prefix + "trial", table, trial);
        if (table is null)
            return null;
        if (table.Column(ColumnRole.Participant) is null)
        {
            context.Fault(place, prefix + "table", $"Table '{table.Name}' names no participant.", "Name a table whose rows belong to participants.");
            return null;
        }
        foreach (string key in table.Key)
        {
            bool known = key == curves.Over || key == curves.Trial || table.Column(key)?.Role is ColumnRole.Participant or ColumnRole.Side;
            if (!known)
                context.Fault(place, prefix + "table", $"A row of '{table.Name}' is also one of '{key}', so curves of several would be mixed.", curves.Trial is null ? $"Write trial: {key} when it numbers the trials of a side." : "Name a table whose key is participant, side, trial and the arc.");
        }
        return table;

        void Numeric(string name, string key, string what)
        {
            if (context.Column(place, prefix + key, table, name) is { } column && !ColumnRules.IsNumeric(column))
                context.Fault(place, prefix + key, $"Column '{name}' holds no numbers. {what}", "Name a column of numbers.");
        }
    }
}
