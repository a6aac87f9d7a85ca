using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads the kinds of measures that read other measures: against norms, over time, beside the other side, by cut-offs and grades.</summary>
internal static class ReadingMeasuresReader
{
    internal static NormMeasure Norm(NormUse use, YamlSection s, MeasureHead c) => new(
        c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, use,
        s.Text("of"), s.Text("norm"), s.Text("age"), s.OptionalText("sex"), s.OptionalText("day"));

    internal static ChangePerYearMeasure Change(YamlSection s, MeasureHead c) => new(
        c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place,
        s.Text("table"), s.Text("column"), s.OptionalText("day_table"), s.Text("day_column"),
        s.OptionalText("method_column"), s.OptionalText("method"), s.WholeNumber("least_days"), s.FlagOrFalse("hip_gate"));

    internal static PairPatternMeasure Pattern(YamlSection s, MeasureHead c) => new(
        c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place,
        s.Text("first"), Range(s, "first_usual"), s.Text("second"), Range(s, "second_usual"), Labels(s));

    internal static ConvertedMeasure Converted(YamlSection s, MeasureHead c)
        => new(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, s.Text("of"), Relation(s));

    internal static ScoreBoundMeasure Bound(YamlSection s, MeasureHead c) => new(
        c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, s.Text("of"), s.Word<BoundEnd>("end") ?? BoundEnd.Lowest,
        s.Has("most_lost") ? s.WholeNumber("most_lost") : 0, s.Has("most_gained") ? s.WholeNumber("most_gained") : 0, s.WholeNumber("highest_possible"));

    internal static CutOffMeasure CutOff(YamlSection s, MeasureHead c)
    {
        ImmutableArray<CutOffRow>.Builder rows = ImmutableArray.CreateBuilder<CutOffRow>();
        s.Need("rows", "List the cut-offs by age.");
        foreach (YamlSection row in s.Sections("rows"))
        {
            rows.Add(new CutOffRow(row.Number("age_from"), row.Number("age_to"), row.Number("at_least")));
            row.Close();
        }
        return new CutOffMeasure(c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, s.Text("of"), s.Text("age"), rows.ToImmutable());
    }

    internal static SideReadingMeasure SideReading(YamlSection s, MeasureHead c)
    {
        string of = s.Text("of");
        ComponentTest test = s.Word<ComponentTest>("test") ?? ComponentTest.Is;
        ScoreComponent positive = test == ComponentTest.Is
            ? new ScoreComponent(of, test, double.NaN, s.Text("code"))
            : new ScoreComponent(of, test, s.Number("threshold"), null);
        return new SideReadingMeasure(
            c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, positive, s.Has("more_by") ? s.Number("more_by") : null);
    }

    internal static GradeMeasure Grade(YamlSection s, MeasureHead c, ValueMeasure value)
    {
        ImmutableArray<GradeStep>.Builder grades = ImmutableArray.CreateBuilder<GradeStep>();
        s.Need("grades", "List the grades, lowest first, each with its codes.");
        foreach (YamlSection grade in s.Sections("grades"))
        {
            grades.Add(new GradeStep(grade.Text("label"), grade.Texts("codes")));
            grade.Close();
        }
        return new GradeMeasure(
            c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place, value, s.Text("scale_version"), grades.ToImmutable(), s.Texts("apart"));
    }

    private static ValueRange Range(YamlSection s, string key)
    {
        s.Need(key, "Give 'lowest' and 'highest' of the usual values.");
        if (s.Section(key) is not { } range)
            return new ValueRange(0, 0);
        ValueRange read = new(range.Number("lowest"), range.Number("highest"));
        range.Close();
        return read;
    }

    private static PatternLabels Labels(YamlSection s)
    {
        s.Need("labels", "Name the four patterns.");
        if (s.Section("labels") is not { } l)
            return new PatternLabels(string.Empty, string.Empty, string.Empty, string.Empty);
        PatternLabels labels = new(l.Text("both_usual"), l.Text("one_unusual"), l.Text("same_direction"), l.Text("opposite_directions"));
        l.Close();
        return labels;
    }

    private static MethodRelation Relation(YamlSection s)
    {
        s.Need("relation", "Methods are converted by a published relation with its error only; without one keep them apart.");
        if (s.Section("relation") is not { } r)
            return new MethodRelation(string.Empty, string.Empty, 0, 1, 1, string.Empty, Evidence.ReadInCopy);
        MethodRelation relation = new(
            r.Text("from_method"), r.Text("to_method"), r.Number("intercept"), r.Number("slope"), r.Number("residual_sd"),
            r.Text("source"), r.Word<Evidence>("evidence") ?? Evidence.ReadInCopy);
        r.Close();
        return relation;
    }
}
