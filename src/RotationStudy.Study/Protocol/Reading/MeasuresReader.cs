using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads measures.yaml. Each kind asks for its own keys, so a key of another kind is unknown.</summary>
internal static class MeasuresReader
{
    private enum Kind
    {
        Value,
        Sum,
        Difference,
        HalfDifference,
        Product,
        SideDifference,
        CriteriaScore,
        FollowUp,
        EventCount,
        AnyEvent,
        FirstEventDay,
        Groups,
    }

    internal static ImmutableArray<MeasureDefinition> Read(YamlSection top, HashSet<string> unread)
    {
        ImmutableArray<MeasureDefinition>.Builder measures = ImmutableArray.CreateBuilder<MeasureDefinition>();
        top.Need("measures", "List the measures.");
        foreach (YamlSection section in top.Owners("measures", "measure"))
        {
            if (section.Word<Kind>("kind") is not { } kind)
            {
                unread.Add(section.Text("id"));
                continue;
            }
            Common common = new(
                section.Text("id"), section.Text("label"), section.OptionalText("unit"),
                section.OptionalText("definition"), section.OptionalText("source"), section.Place);
            measures.Add(ReadKind(kind, section, common));
            section.Close();
        }
        top.Close();
        return measures.ToImmutable();
    }

    private static MeasureDefinition ReadKind(Kind kind, YamlSection s, Common c) => kind switch
    {
        Kind.Value => new ValueMeasure(
            c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place,
            s.Text("table"), s.Text("column"), s.OptionalText("visit"), s.OptionalText("method_column"), s.OptionalText("method"),
            s.Word("reduction", Reduction.First), s.FlagOrFalse("hip_gate")),
        Kind.Sum => Pair(PairOperation.Sum, s, c),
        Kind.Difference => Pair(PairOperation.Difference, s, c),
        Kind.HalfDifference => Pair(PairOperation.HalfDifference, s, c),
        Kind.Product => Pair(PairOperation.Product, s, c),
        Kind.SideDifference => new SideDifferenceMeasure(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, s.Text("of")),
        Kind.CriteriaScore => new CriteriaScoreMeasure(
            c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, s.Text("table"), s.OptionalText("visit"), Components(s)),
        Kind.FollowUp => new FollowUpMeasure(
            c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place,
            s.Text("last_contact_table"), s.Text("last_contact_column"), Events(s, required: false)),
        Kind.EventCount => new EventCountMeasure(
            c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, Events(s, required: true)!, s.Text("follow_up")),
        Kind.AnyEvent => new AnyEventMeasure(
            c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, Events(s, required: true)!, s.Text("follow_up")),
        Kind.FirstEventDay => new FirstEventDayMeasure(
            c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, Events(s, required: true)!, s.Text("follow_up")),
        _ => new GroupsMeasure(
            c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, s.Text("of"), s.Numbers("cut_points"), s.Texts("labels")),
    };

    private static PairMeasure Pair(PairOperation operation, YamlSection s, Common c)
        => new(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, operation, s.Text("first"), s.Text("second"));

    private static ImmutableArray<ScoreComponent> Components(YamlSection section)
    {
        ImmutableArray<ScoreComponent>.Builder components = ImmutableArray.CreateBuilder<ScoreComponent>();
        section.Need("components", "List the components with their criteria.");
        foreach (YamlSection item in section.Sections("components"))
        {
            string column = item.Text("column");
            if (item.Word<ComponentTest>("test") is { } test)
            {
                components.Add(test == ComponentTest.Is
                    ? new ScoreComponent(column, test, double.NaN, item.Text("code"))
                    : new ScoreComponent(column, test, item.Number("threshold"), null));
                item.Close();
            }
        }
        return components.ToImmutable();
    }

    private static EventSelection? Events(YamlSection section, bool required)
    {
        if (required)
            section.Need("events", "Say which rows of which table are the event.");
        if (section.Section("events") is not { } events)
            return required ? new EventSelection(string.Empty, string.Empty, [], 0) : null;
        EventSelection selection = new(events.Text("table"), events.Text("column"), events.Texts("codes"), events.WholeNumber("merge_within_days"));
        events.Need("codes", "List the codes that count as the event.");
        events.Close();
        return selection;
    }

    private sealed record Common(string Id, string Label, string? Unit, string? Definition, string? Source, Place Place);
}
