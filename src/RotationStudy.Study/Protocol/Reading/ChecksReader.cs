using System.Collections.Immutable;
using RotationStudy.Study.Checks;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads checks.yaml. Each kind asks for its own keys, so a key of another kind is unknown.</summary>
internal static class ChecksReader
{
    private enum Kind
    {
        LastDigit,
        RequiredIf,
        RangeIf,
        PairRange,
        StatedScore,
        EqualSides,
        Change,
        Partner,
        EventOrder,
        RaterDifference,
        RepeatedContent,
        Outlier,
    }

    internal static ImmutableArray<CheckDefinition> Read(YamlSection top)
    {
        ImmutableArray<CheckDefinition>.Builder checks = ImmutableArray.CreateBuilder<CheckDefinition>();
        top.Need("checks", "List the checks, or write [] for none.");
        foreach (YamlSection section in top.Owners("checks", "check"))
        {
            Common common = new(
                section.Text("id"), section.Text("label"), section.Word<Severity>("severity") ?? Severity.Note,
                section.Text("table"), section.Text("says"), section.Text("source"), section.Place);
            if (section.Word<Kind>("kind") is not { } kind)
                continue;
            checks.Add(ReadKind(kind, section, common));
            section.Close();
        }
        top.Close();
        return checks.ToImmutable();
    }

    private static CheckDefinition ReadKind(Kind kind, YamlSection s, Common c) => kind switch
    {
        Kind.LastDigit => new LastDigitCheck(
            c.Id, c.Label, c.Severity, c.Table, c.Says, c.Source, c.Place,
            Columns(s), s.Text("by"), s.WholeNumber("multiple_of"), s.Number("more_than"), s.Number("below_p"), s.WholeNumber("at_least")),
        Kind.RequiredIf => new RequiredIfCheck(
            c.Id, c.Label, c.Severity, c.Table, c.Says, c.Source, c.Place, NeededCondition(s), s.Text("column"), s.Texts("codes")),
        Kind.RangeIf => new RangeIfCheck(
            c.Id, c.Label, c.Severity, c.Table, c.Says, c.Source, c.Place, NeededCondition(s), s.Text("column"), Limits(s)),
        Kind.PairRange => new PairRangeCheck(
            c.Id, c.Label, c.Severity, c.Table, c.Says, c.Source, c.Place,
            s.Word<PairCombination>("combination") ?? PairCombination.Sum, s.Text("first"), s.Text("second"), Limits(s)),
        Kind.StatedScore => new StatedScoreCheck(
            c.Id, c.Label, c.Severity, c.Table, c.Says, c.Source, c.Place, s.Text("column"), MeasuresReader.Components(s)),
        Kind.EqualSides => new EqualSidesCheck(
            c.Id, c.Label, c.Severity, c.Table, c.Says, c.Source, c.Place, Columns(s), s.WholeNumber("at_least")),
        Kind.Change => new ChangeCheck(
            c.Id, c.Label, c.Severity, c.Table, c.Says, c.Source, c.Place,
            s.Text("column"), s.Word("direction", ChangeDirection.Either), s.Number("at_most"),
            s.Has("within_days") ? s.WholeNumber("within_days") : null, s.OptionalText("order_by"), s.Texts("same")),
        Kind.Partner => new PartnerCheck(
            c.Id, c.Label, c.Severity, c.Table, c.Says, c.Source, c.Place,
            Condition(s, "when"), s.Text("other"), Condition(s, "other_when"), Match(s), s.FlagOrFalse("other_side")),
        Kind.EventOrder => new EventOrderCheck(
            c.Id, c.Label, c.Severity, c.Table, c.Says, c.Source, c.Place,
            Condition(s, "when"), s.Text("earlier"), Condition(s, "earlier_when"), Match(s), s.FlagOrFalse("required")),
        Kind.RaterDifference => new RaterDifferenceCheck(
            c.Id, c.Label, c.Severity, c.Table, c.Says, c.Source, c.Place, s.Text("column"), s.Number("at_most")),
        Kind.RepeatedContent => new RepeatedContentCheck(
            c.Id, c.Label, c.Severity, c.Table, c.Says, c.Source, c.Place, Columns(s), s.WholeNumber("at_least")),
        _ => new OutlierCheck(
            c.Id, c.Label, c.Severity, c.Table, c.Says, c.Source, c.Place,
            Columns(s), s.OptionalText("age_column"), s.Numbers("age_cut_points"), s.Number("below_p"), s.WholeNumber("at_least")),
    };

    private static ImmutableArray<string> Columns(YamlSection section)
    {
        section.Need("columns", "List the columns that are looked at.");
        return section.Texts("columns");
    }

    private static ValueRange Limits(YamlSection section)
    {
        section.Need("limits", "Say the lowest and the highest value that raises no question.");
        if (section.Section("limits") is not { } limits)
            return new ValueRange(0, 0);
        ValueRange range = new(limits.Number("lowest"), limits.Number("highest"));
        limits.Close();
        return range;
    }

    private static RowCondition NeededCondition(YamlSection section)
    {
        section.Need("when", "Say in which rows the check applies.");
        return Condition(section, "when") ?? new RowCondition(string.Empty, []);
    }

    private static RowCondition? Condition(YamlSection section, string key)
    {
        if (section.Section(key) is not { } condition)
            return null;
        RowCondition read = new(condition.Text("column"), condition.Texts("codes"));
        condition.Need("codes", "List the codes.");
        condition.Close();
        return read;
    }

    private static ImmutableArray<ColumnRole> Match(YamlSection section)
    {
        section.Need("match", "Say by what rows belong together, such as [participant, side].");
        return section.Words<ColumnRole>("match");
    }

    private sealed record Common(string Id, string Label, Severity Severity, string Table, string Says, string Source, Place Place);
}
