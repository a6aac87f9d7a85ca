using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads the measures of what happens to a participant over time: entry, competing events, recovery, diaries, scores and flags.</summary>
internal static class CourseMeasuresReader
{
    internal static EntryMeasure Entry(YamlSection s, MeasureHead c)
        => new(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, s.Text("table"), s.Text("column"));

    internal static FollowUpMeasure FollowUp(YamlSection s, MeasureHead c)
        => new(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, s.Text("last_contact_table"), s.Text("last_contact_column"), Events(s, "events", required: false))
        {
            Entry = s.OptionalText("entry"),
        };

    internal static FirstOfMeasure FirstOf(YamlSection s, MeasureHead c)
    {
        ImmutableArray<NamedEvents>.Builder outcomes = ImmutableArray.CreateBuilder<NamedEvents>();
        s.Need("outcomes", "List the events that compete, each with its label.");
        foreach (YamlSection item in s.Sections("outcomes"))
        {
            outcomes.Add(new NamedEvents(item.Text("label"), Events(item, "events", required: true)!));
            item.Close();
        }
        return new FirstOfMeasure(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, outcomes.ToImmutable(), s.Text("follow_up"));
    }

    internal static FirstOfDayMeasure FirstOfDay(YamlSection s, MeasureHead c)
        => new(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, s.Text("of"));

    internal static AfterMeasure After(AfterValue value, YamlSection s, MeasureHead c)
    {
        EventSelection origin = Events(s, "origin", required: true)!;
        DatedRows until = new(string.Empty, null, []);
        s.Need("until", "Say which rows are waited for.");
        if (s.Section("until") is { } rows)
        {
            until = new DatedRows(rows.Text("table"), rows.OptionalText("column"), rows.Texts("codes"));
            rows.Close();
        }
        return new AfterMeasure(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, value, origin, until, s.Text("follow_up"));
    }

    internal static InOrderMeasure InOrder(YamlSection s, MeasureHead c)
    {
        s.Need("of", "List the times in the order in which they should be reached.");
        return new InOrderMeasure(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, s.Texts("of"));
    }

    internal static WeeklyMeasure Weekly(YamlSection s, MeasureHead c)
    {
        string table = s.Text("table"), column = s.Text("column");
        WeeklyReduction reduction = s.Word<WeeklyReduction>("reduction") ?? WeeklyReduction.Mean;
        WearRule? wear = null;
        if (s.Section("wear") is { } rule)
        {
            wear = new WearRule(rule.Text("column"), rule.Number("at_least_hours"), rule.Text("source"));
            rule.Close();
        }
        return new WeeklyMeasure(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, table, column, reduction, wear, s.WholeNumber("minimum_days"));
    }

    internal static WeeklyChangesMeasure WeeklyChanges(YamlSection s, MeasureHead c)
    {
        s.Need("codes", "List the codes that are a change.");
        return new WeeklyChangesMeasure(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, s.Text("table"), s.Text("column"), s.Texts("codes"));
    }

    internal static OwnWeeksMeasure OwnWeeks(OwnWeeksValue value, YamlSection s, MeasureHead c)
        => new(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, value, s.Text("of"));

    internal static OutcomeScoreMeasure OutcomeScore(YamlSection s, MeasureHead c)
    {
        string table = s.Text("table");
        string? column = s.OptionalText("column");
        ItemRule? items = null;
        if (s.Section("items") is { } rule)
        {
            rule.Need("columns", "List the columns of the items.");
            items = new ItemRule(rule.Texts("columns"), Range(rule, "range"), rule.WholeNumber("at_least_answered"), rule.Text("source"));
            rule.Close();
        }
        return new OutcomeScoreMeasure(
            c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, table, column, items, s.OptionalText("visit"), Range(s, "range"),
            s.Word<ScoreDirection>("direction") ?? ScoreDirection.HighIsGood, Change(s, "detectable_change"), Change(s, "important_change"));
    }

    internal static MeaningfulChangeMeasure MeaningfulChange(YamlSection s, MeasureHead c)
        => new(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, s.Text("from"), s.Text("to"));

    internal static ClinicalFlagMeasure ClinicalFlag(YamlSection s, MeasureHead c)
    {
        ImmutableArray<FlagCondition>.Builder conditions = ImmutableArray.CreateBuilder<FlagCondition>();
        s.Need("conditions", "List what must hold.");
        foreach (YamlSection item in s.Sections("conditions"))
        {
            string measure = item.Text("measure");
            double? atLeast = item.Has("at_least") ? item.Number("at_least") : null;
            conditions.Add(new FlagCondition(measure, atLeast, atLeast is null ? item.Text("is") : null));
            item.Close();
        }
        return new ClinicalFlagMeasure(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, conditions.ToImmutable(), s.Text("advice"));
    }

    /// <summary>Which rows of which table are an event.</summary>
    internal static EventSelection? Events(YamlSection section, string key, bool required)
    {
        if (required)
            section.Need(key, "Say which rows of which table are the event.");
        if (section.Section(key) is not { } events)
            return required ? new EventSelection(string.Empty, string.Empty, [], 0) : null;
        CodeCondition? where = null;
        if (events.Section("where") is { } condition)
        {
            condition.Need("codes", "List the codes that count.");
            where = new CodeCondition(condition.Text("column"), condition.Texts("codes"));
            condition.Close();
        }
        EventSelection selection = new(events.Text("table"), events.Text("column"), events.Texts("codes"), events.WholeNumber("merge_within_days"))
        {
            Where = where,
            Side = events.Word("side", EventSide.This),
            FromNumber = events.Has("from_number") ? events.WholeNumber("from_number") : 1,
        };
        events.Need("codes", "List the codes that count as the event.");
        events.Close();
        return selection;
    }

    private static ValueRange Range(YamlSection section, string key)
    {
        section.Need(key, "Give the lowest and the highest.");
        if (section.Section(key) is not { } range)
            return new ValueRange(0, 1);
        ValueRange read = new(range.Number("lowest"), range.Number("highest"));
        range.Close();
        return read;
    }

    private static ChangeValue? Change(YamlSection section, string key)
    {
        if (section.Section(key) is not { } change)
            return null;
        ChangeValue read = new(change.Number("points"), change.Text("source"));
        change.Close();
        return read;
    }
}

/// <summary>What every measure begins with.</summary>
/// <param name="Id">Name by which others refer to it.</param>
/// <param name="Label">Name in the report.</param>
/// <param name="Unit">Unit, if any.</param>
/// <param name="Definition">Meaning, if the label does not say all.</param>
/// <param name="Source">Source, if given.</param>
/// <param name="Place">Where it is declared.</param>
internal sealed record MeasureHead(string Id, string Label, string? Unit, string? Definition, string? Source, Place Place);
