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
        SideMean,
        CriteriaScore,
        FollowUp,
        EventCount,
        AnyEvent,
        FirstEventDay,
        Groups,
        Entry,
        FirstOf,
        FirstOfDay,
        TimeAfter,
        ReachedAfter,
        WatchedAfter,
        InOrder,
        Weekly,
        WeeklyChanges,
        WeekBefore,
        PersonMean,
        WithinPerson,
        OutcomeScore,
        MeaningfulChange,
        ClinicalFlag,
        ZScore,
        Centile,
        NormDifference,
        NormPosition,
        ChangePerYear,
        PairPattern,
        Converted,
        ScoreBound,
        CutOff,
        SideReading,
        Grade,
        CurveSummary,
    }

    internal static ImmutableArray<MeasureDefinition> Read(YamlSection top, HashSet<string> unread, out ImmutableArray<MethodDistinction> methods)
    {
        ImmutableArray<MeasureDefinition>.Builder measures = ImmutableArray.CreateBuilder<MeasureDefinition>();
        methods = BackgroundReader.Methods(top);
        top.Need("measures", "List the measures.");
        foreach (YamlSection section in top.Owners("measures", "measure"))
        {
            if (section.Word<Kind>("kind") is not { } kind)
            {
                unread.Add(section.Text("id"));
                continue;
            }
            MeasureHead common = new(
                section.Text("id"), section.Text("label"), section.OptionalText("unit"),
                section.OptionalText("definition"), section.OptionalText("source"), section.Place);
            measures.Add(ReadKind(kind, section, common) with { Background = BackgroundReader.Read(section) });
            section.Close();
        }
        top.Close();
        return measures.ToImmutable();
    }

    private static MeasureDefinition ReadKind(Kind kind, YamlSection s, MeasureHead c) => kind switch
    {
        Kind.Value => Value(s, c),
        Kind.Sum => Pair(PairOperation.Sum, s, c),
        Kind.Difference => Pair(PairOperation.Difference, s, c),
        Kind.HalfDifference => Pair(PairOperation.HalfDifference, s, c),
        Kind.Product => Pair(PairOperation.Product, s, c),
        Kind.SideDifference => new SideDifferenceMeasure(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, s.Text("of")),
        Kind.SideMean => new SideMeanMeasure(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, s.Text("of")),
        Kind.CriteriaScore => new CriteriaScoreMeasure(
            c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, s.Text("table"), s.OptionalText("visit"), Components(s)),
        Kind.FollowUp => CourseMeasuresReader.FollowUp(s, c),
        Kind.EventCount => new EventCountMeasure(
            c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, CourseMeasuresReader.Events(s, "events", required: true)!, s.Text("follow_up")),
        Kind.AnyEvent => new AnyEventMeasure(
            c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, CourseMeasuresReader.Events(s, "events", required: true)!, s.Text("follow_up")),
        Kind.FirstEventDay => new FirstEventDayMeasure(
            c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, CourseMeasuresReader.Events(s, "events", required: true)!, s.Text("follow_up")),
        Kind.Entry => CourseMeasuresReader.Entry(s, c),
        Kind.FirstOf => CourseMeasuresReader.FirstOf(s, c),
        Kind.FirstOfDay => CourseMeasuresReader.FirstOfDay(s, c),
        Kind.TimeAfter => CourseMeasuresReader.After(AfterValue.TimeAfter, s, c),
        Kind.ReachedAfter => CourseMeasuresReader.After(AfterValue.ReachedAfter, s, c),
        Kind.WatchedAfter => CourseMeasuresReader.After(AfterValue.WatchedAfter, s, c),
        Kind.InOrder => CourseMeasuresReader.InOrder(s, c),
        Kind.Weekly => CourseMeasuresReader.Weekly(s, c),
        Kind.WeeklyChanges => CourseMeasuresReader.WeeklyChanges(s, c),
        Kind.WeekBefore => CourseMeasuresReader.OwnWeeks(OwnWeeksValue.WeekBefore, s, c),
        Kind.PersonMean => CourseMeasuresReader.OwnWeeks(OwnWeeksValue.PersonMean, s, c),
        Kind.WithinPerson => CourseMeasuresReader.OwnWeeks(OwnWeeksValue.WithinPerson, s, c),
        Kind.OutcomeScore => CourseMeasuresReader.OutcomeScore(s, c),
        Kind.MeaningfulChange => CourseMeasuresReader.MeaningfulChange(s, c),
        Kind.ClinicalFlag => CourseMeasuresReader.ClinicalFlag(s, c),
        Kind.ZScore => ReadingMeasuresReader.Norm(NormUse.ZScore, s, c),
        Kind.Centile => ReadingMeasuresReader.Norm(NormUse.Centile, s, c),
        Kind.NormDifference => ReadingMeasuresReader.Norm(NormUse.Difference, s, c),
        Kind.NormPosition => ReadingMeasuresReader.Norm(NormUse.Position, s, c),
        Kind.ChangePerYear => ReadingMeasuresReader.Change(s, c),
        Kind.PairPattern => ReadingMeasuresReader.Pattern(s, c),
        Kind.Converted => ReadingMeasuresReader.Converted(s, c),
        Kind.ScoreBound => ReadingMeasuresReader.Bound(s, c),
        Kind.CutOff => ReadingMeasuresReader.CutOff(s, c),
        Kind.SideReading => ReadingMeasuresReader.SideReading(s, c),
        Kind.Grade => ReadingMeasuresReader.Grade(s, c, Value(s, c)),
        Kind.CurveSummary => CurvesReader.Summary(s, c),
        _ => new GroupsMeasure(
            c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, s.Text("of"), s.Numbers("cut_points"), s.Texts("labels")),
    };

    private static ValueMeasure Value(YamlSection s, MeasureHead c) => new(
        c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place,
        s.Text("table"), s.Text("column"), s.OptionalText("visit"), s.OptionalText("method_column"), s.OptionalText("method"),
        s.Word("reduction", Reduction.First), s.FlagOrFalse("hip_gate"));

    private static PairMeasure Pair(PairOperation operation, YamlSection s, MeasureHead c)
        => new(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, operation, s.Text("first"), s.Text("second"));

    internal static ImmutableArray<ScoreComponent> Components(YamlSection section)
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
}
