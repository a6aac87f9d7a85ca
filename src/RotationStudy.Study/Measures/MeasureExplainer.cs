using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Protocol.Reading;
using RotationStudy.Study.Protocol.Rules;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Measures;

/// <summary>Explains a measure: what it is, how it is taken, what it is read against, how far it can be trusted, and who uses it.</summary>
public static class MeasureExplainer
{
    /// <summary>The points of the explanation; a point of which nothing is known is left out.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="measure">One of its measures.</param>
    public static ImmutableArray<ExplainedPoint> Explain(StudyProtocol protocol, MeasureDefinition measure)
    {
        MeasureBackground background = measure.Background;
        ColumnDefinition? column = ColumnOf(protocol, measure);
        List<ExplainedPoint> points = [];
        Add(points, "Definition", measure.Definition ?? measure.Label);
        Add(points, "As this protocol has it", MeasureWords.Describe(measure with { Definition = null }, protocol));
        Add(points, "One value per", ValueNature.Words(protocol.LevelOf(measure)));
        Add(points, "Unit", measure.Unit ?? "none");
        Add(points, "Position", background.Position);
        Add(points, "Sign", background.Sign);
        Add(points, "How it is taken", background.Technique ?? column?.Method);
        Add(points, "Methods", Methods(protocol, measure));
        if (NormOf(protocol, measure) is { } norm)
            AddNorm(points, norm);
        foreach (ReliabilityFact fact in background.Reliability)
            Add(points, "Error of measurement", $"{fact.Says} {(fact.Evidence == Evidence.ByArithmetic ? fact.Source : $"{fact.Source.TrimEnd('.')}; {fact.Evidence.Words()}.")}");
        Add(points, "Limits", background.Limits);
        Add(points, "Source", measure.Source ?? column?.Source ?? "As recorded; no source given.");
        Add(points, "Used by", Uses(protocol, measure));
        return [.. points];
    }

    /// <summary>A hint for an id that no measure has: the nearest id, or where to look.</summary>
    public static string HintFor(StudyProtocol protocol, string id)
        => NearestName.Of(id, protocol.Measures.Select(m => m.Id)) is { } nearest ? $"Did you mean '{nearest}'?" : "Leave the measure out to list them all.";

    private static void Add(List<ExplainedPoint> points, string heading, string? text)
    {
        if (!string.IsNullOrWhiteSpace(text))
            points.Add(new ExplainedPoint(heading, text.Trim()));
    }

    private static void AddNorm(List<ExplainedPoint> points, Norm norm)
    {
        Add(points, "Norm", $"{norm.Label}. {norm.Of}");
        foreach (NormRow row in norm.Rows)
            Add(points, "Norm by age", RowWords(row, norm.Unit));
        Add(points, "Source of the norm", norm.Source);
        foreach (string caution in norm.Cautions)
            Add(points, "Caution on the norm", caution);
    }

    private static string RowWords(NormRow row, string? unit)
    {
        string spread = row.Spread switch
        {
            NormSpread.ObservedRange => "values seen",
            NormSpread.TwoStandardDeviationRange => "two standard deviations to either side, as printed",
            NormSpread.TwoStandardDeviations => "two standard deviations, as printed after ±",
            _ => "mean and two standard deviations",
        };
        string n = row.N is { } count ? string.Create(CultureInfo.InvariantCulture, $", n = {count}") : string.Empty;
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{(row.Sex is null ? "both sexes" : $"sex {row.Sex}")}, {row.AgeFrom:0.##} to under {row.AgeTo:0.##} years: mean {row.Mean:0.##}, {row.Lowest:0.##} to {row.Highest:0.##}{(unit is null ? "" : " " + unit)} ({spread}){n}; {row.Evidence.Words()}.").Replace(" -", " \u2212", StringComparison.Ordinal);
    }

    private static string? Methods(StudyProtocol protocol, MeasureDefinition measure)
    {
        (string Table, string Column)? read = measure switch
        {
            ValueMeasure m => (m.Table, m.Column),
            ChangePerYearMeasure m => (m.Table, m.Column),
            GradeMeasure m => (m.Value.Table, m.Value.Column),
            _ => null,
        };
        MethodDistinction? distinction = protocol.Methods.FirstOrDefault(d => (d.Table, d.Column) == read);
        string? pooled = measure.Background.PoolsMethodsBecause is { } because ? $"Methods are pooled here, because: {because.Trim()}" : null;
        return distinction is null ? pooled : $"{pooled ?? "Values of other methods are left out."} {distinction.Reason.Trim()}";
    }

    private static Norm? NormOf(StudyProtocol protocol, MeasureDefinition measure)
        => (measure is NormMeasure m ? m.Norm : measure.Background.Norm) is { } id ? protocol.Norm(id) : null;

    private static ColumnDefinition? ColumnOf(StudyProtocol protocol, MeasureDefinition measure) => measure switch
    {
        ValueMeasure m => protocol.Table(m.Table).Column(m.Column),
        ChangePerYearMeasure m => protocol.Table(m.Table).Column(m.Column),
        GradeMeasure m => protocol.Table(m.Value.Table).Column(m.Value.Column),
        CurveSummaryMeasure m => protocol.Table(m.Curves.Table).Column(m.Curves.Column),
        _ => null,
    };

    private static string Uses(StudyProtocol protocol, MeasureDefinition measure)
    {
        List<string> uses = [];
        foreach (QuestionDefinition question in protocol.Plan.Questions)
        {
            string roles = string.Join(", ", MeasureInputs.RolesIn(question, measure.Id));
            if (roles.Length > 0)
                uses.Add($"{question.Id} {question.Title} ({roles})");
        }
        uses.AddRange(protocol.Plan.Choices
            .Where(c => c.Dimensions.Any(d => d.Options.Any(o => o.Replace.Any(r => r.By == measure.Id) || o.Add.Any(a => a.Measure == measure.Id))))
            .Select(c => $"the choices behind {c.Question}"));
        string[] built = [.. protocol.Measures.Where(m => MeasureInputs.Of(m).Contains(measure.Id)).Select(m => m.Id)];
        if (built.Length > 0)
            uses.Add($"{(built.Length == 1 ? "the measure" : "the measures")} {string.Join(", ", built)}");
        return uses.Count == 0 ? "No question of the plan." : string.Join("; ", uses) + ".";
    }
}
