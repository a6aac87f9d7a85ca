using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of measures that read another measure: against a norm, by a cut-off, beside the other side, converted, bounded.</summary>
internal static class ReadingMeasureRules
{
    internal static readonly ImmutableArray<string> Positions =
        ["below the range", "within the range", "above the range", "outside the ages of the norm"];

    internal static readonly ImmutableArray<string> CutOffs = ["below the cut-off", "at or above the cut-off"];

    internal static readonly ImmutableArray<string> Readings =
        ["negative", "positive on both sides", "positive on both sides, this side more", "positive, other side negative"];

    internal static ValueNature? CheckNorm(NormMeasure measure, RuleContext context)
    {
        ValueNature? of = MeasureRules.NumberAbove(measure, "of", measure.Of, context);
        if (of is null || NormRules.Check(measure, measure.Norm, of.Unit, context) is not { } norm)
            return null;
        CheckInput(measure, "age", measure.Age, "years", of.Level, context);
        if (measure.Day is { } day)
            CheckInput(measure, "day", day, "days", of.Level, context);
        CheckSex(measure, norm, context);
        if (measure.Use is NormUse.ZScore or NormUse.Centile && norm.Rows.Any(r => !r.HasDeviation))
        {
            context.Fault(
                measure.Place, "norm", $"The norm '{norm.Id}' has a range of values seen, from which no z score can be made.",
                "Use kind: norm_difference or norm_position.");
        }
        (ValueKind kind, ImmutableArray<string> codes, string? unit) = measure.Use switch
        {
            NormUse.Position => (ValueKind.Code, Positions, null),
            NormUse.Difference => (ValueKind.Number, ImmutableArray<string>.Empty, of.Unit),
            NormUse.Centile => (ValueKind.Number, [], "percent"),
            _ => (ValueKind.Number, [], null),
        };
        MeasureRules.SameUnit(measure, unit, context);
        return new ValueNature(of.Level, kind, codes, unit);
    }

    internal static ValueNature? CheckPattern(PairPatternMeasure measure, RuleContext context)
    {
        ValueNature? first = MeasureRules.NumberAbove(measure, "first", measure.First, context);
        ValueNature? second = MeasureRules.NumberAbove(measure, "second", measure.Second, context);
        foreach ((string key, ValueRange range) in new[] { ("first_usual", measure.FirstUsual), ("second_usual", measure.SecondUsual) })
        {
            if (context.Written(measure.Place, key) && range.Lowest >= range.Highest)
                context.Fault(measure.Place, key, "The usual range ends before it begins.", "Let 'lowest' be below 'highest'.");
        }
        ImmutableArray<string> labels = [measure.Labels.BothUsual, measure.Labels.OneUnusual, measure.Labels.SameDirection, measure.Labels.OppositeDirections];
        context.Unique(labels.Select(l => (l, measure.Place, "labels")), "label");
        return first is null || second is null ? null : new ValueNature(context.Protocol.LevelOf(measure), ValueKind.Code, labels, null);
    }

    internal static ValueNature? CheckConverted(ConvertedMeasure measure, RuleContext context)
    {
        MethodRelation relation = measure.Relation;
        if (MeasureRules.NumberAbove(measure, "of", measure.Of, context) is not { } of)
            return null;
        MeasureRules.SameUnit(measure, of.Unit, context);
        string? method = (context.Protocol.Measure(measure.Of) as ValueMeasure)?.Method;
        if (method is null || method != relation.FromMethod)
        {
            context.Fault(
                measure.Place, "relation.from_method",
                $"The relation converts method '{relation.FromMethod}', but '{measure.Of}' keeps {(method is null ? "no method" : $"method '{method}'")}.",
                "Convert a recorded value that keeps the method of the relation.");
        }
        if (relation.ResidualDeviation <= 0)
        {
            context.Fault(
                measure.Place, "relation.residual_sd", "A conversion has an error of its own, so its standard deviation is above 0.",
                "Give the published standard deviation about the line.");
        }
        if (relation.Evidence != Evidence.ReadInCopy)
        {
            context.Fault(
                measure.Place, "relation.evidence", $"A relation that is {relation.Evidence.Words()} converts nothing: published offsets between methods disagree by several degrees.",
                "Read the publication, or keep the methods apart.");
        }
        return of with { Kind = ValueKind.Number };
    }

    internal static ValueNature? CheckBound(ScoreBoundMeasure measure, RuleContext context)
    {
        if (MeasureRules.NumberAbove(measure, "of", measure.Of, context) is not { } of)
            return null;
        MeasureRules.SameUnit(measure, of.Unit, context);
        if (measure.MostLost < 0 || measure.MostGained < 0)
            context.Fault(measure.Place, measure.MostLost < 0 ? "most_lost" : "most_gained", "Points lost and gained are not negative.", "Write a whole number from 0.");
        if (context.Protocol.Measure(measure.Of) is not CriteriaScoreMeasure && measure.MostLost == 0 && measure.MostGained == 0)
        {
            context.Fault(
                measure.Place, "of", $"'{measure.Of}' is a total without components, so its bounds are the total itself.",
                "Name a criteria_score, or say how many points the other score may lose and gain.");
        }
        return of with { Kind = ValueKind.WholeNumber };
    }

    internal static ValueNature? CheckCutOff(CutOffMeasure measure, RuleContext context)
    {
        if (context.MeasureAbove(measure, "of", measure.Of) is not { } of)
            return null;
        if (context.Protocol.Measure(measure.Of) is not CriteriaScoreMeasure score)
        {
            context.Fault(measure.Place, "of", $"Measure '{measure.Of}' is no score of components.", "Name a measure of kind criteria_score.");
            return null;
        }
        CheckInput(measure, "age", measure.Age, "years", of.Level, context);
        for (int i = 0; i < measure.Rows.Length; i++)
        {
            CutOffRow row = measure.Rows[i];
            if (row.AgeFrom >= row.AgeTo || measure.Rows.Take(i).Any(r => r.AgeFrom < row.AgeTo && row.AgeFrom < r.AgeTo))
                context.Fault(measure.Place, $"rows[{i}].age_from", "The ages of the rows must not overlap or end before they begin.", "Give each age one row; age_to itself is excluded.");
            if (row.AtLeast < 1 || row.AtLeast > score.Components.Length)
                context.Fault(measure.Place, $"rows[{i}].at_least", $"The score runs from 0 to {score.Components.Length}, so the cut-off says nothing.", $"Write a number from 1 to {score.Components.Length}.");
        }
        return new ValueNature(of.Level, ValueKind.Code, CutOffs, null);
    }

    internal static ValueNature? CheckSideReading(SideReadingMeasure measure, RuleContext context)
    {
        if (context.MeasureAbove(measure, "of", measure.Positive.Column) is not { } of)
            return null;
        if (!of.Level.HasSides())
            context.Fault(measure.Place, "of", $"'{measure.Positive.Column}' has one value per {ValueNature.Words(of.Level)}, not one per side.", "Name a measure of a table with sides.");
        if (measure.Positive.Test == ComponentTest.Is)
        {
            if (!of.Codes.Contains(measure.Positive.Code!))
                context.Fault(measure.Place, "code", $"'{measure.Positive.Column}' has no code '{measure.Positive.Code}'.", Reading.NearestName.Hint(measure.Positive.Code!, of.Codes));
            if (measure.MoreBy is not null)
                context.Fault(measure.Place, "more_by", "Codes have no difference.", "Remove 'more_by'.");
        }
        else if (!of.IsNumeric)
            context.Fault(measure.Place, "test", $"'{measure.Positive.Column}' has no numbers to compare with a threshold.", "Use test: is with a code.");
        if (measure.MoreBy <= 0)
            context.Fault(measure.Place, "more_by", "A difference that counts is above 0.", "Write a number above 0, or leave it out.");
        return new ValueNature(of.Level, ValueKind.Code, Readings, null);
    }

    private static void CheckSex(NormMeasure measure, Norm norm, RuleContext context)
    {
        string[] sexes = [.. norm.Rows.Select(r => r.Sex).OfType<string>().Distinct()];
        if (measure.Sex is null)
        {
            if (sexes.Length > 0)
                context.Fault(measure.Place, "norm", $"The norm '{norm.Id}' has rows by sex, but the measure names no 'sex'.", "Name the measure of sex.");
            return;
        }
        if (context.MeasureAbove(measure, "sex", measure.Sex) is { } sex && sexes.FirstOrDefault(s => !sex.Codes.Contains(s)) is { } unknown)
            context.Fault(measure.Place, "sex", $"The norm '{norm.Id}' has rows of sex '{unknown}', which '{measure.Sex}' does not know.", "Use the codes of the measure of sex in the norm.");
    }

    private static void CheckInput(MeasureDefinition measure, string key, string id, string unit, RowLevel rows, RuleContext context)
    {
        if (MeasureRules.NumberAbove(measure, key, id, context) is not { } nature)
            return;
        if (nature.Unit != unit)
            context.Fault(measure.Place, key, $"'{id}' is in {nature.Unit ?? "no unit"}, not in {unit}.", $"Name a measure in {unit}.");
        if (!nature.Level.CoversRowsOf(rows))
            context.Fault(measure.Place, key, $"'{id}' has one value per {ValueNature.Words(nature.Level)}, which does not fit one per {ValueNature.Words(rows)}.", "Name a coarser measure.");
    }
}
