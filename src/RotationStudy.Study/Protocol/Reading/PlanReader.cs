using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads plan.yaml. A key that the kind of a question does not use is a fault, not a silence.</summary>
internal static class PlanReader
{
    internal static AnalysisPlan Read(YamlSection top)
    {
        AnalysisPlan plan = new(top.Date("dated"), ReadGate(top), ReadQuestions(top)) { Choices = ChoicesReader.Read(top) };
        top.Need("questions", "List the questions.");
        top.Close();
        return plan;
    }

    private static HipGate? ReadGate(YamlSection top)
    {
        if (top.Section("hip_gate") is not { } section)
            return null;
        HipGate gate = new(section.Text("table"), section.Text("column"), section.Texts("clear_codes"), section.Text("reason"))
        {
            Level = section.Word("level", HipGateLevel.Visit),
            Cleared = section.OptionalText("cleared"),
        };
        section.Need("clear_codes", "List the findings under which the rotational profile may be used.");
        section.Close();
        return gate;
    }

    private static ImmutableArray<QuestionDefinition> ReadQuestions(YamlSection top)
    {
        ImmutableArray<QuestionDefinition>.Builder questions = ImmutableArray.CreateBuilder<QuestionDefinition>();
        foreach (YamlSection section in top.Owners("questions", "question"))
        {
            if (section.Word<QuestionKind>("kind") is { } kind)
                questions.Add(ReadQuestion(section, QuestionKeys.Of(kind), kind));
        }
        return questions.ToImmutable();
    }

    private static QuestionDefinition ReadQuestion(YamlSection section, QuestionKeys keys, QuestionKind kind)
    {
        QuestionDefinition question = new(
            Id: section.Text("id"),
            Title: section.Text("title"),
            Asks: section.Text("asks"),
            Kind: kind,
            Rows: section.Word<RowLevel>("rows") ?? RowLevel.Participant,
            Outcome: keys.Name(section, "outcome"),
            FollowUp: keys.Name(section, "follow_up"),
            Entry: keys.Name(section, "entry"),
            Exit: keys.Name(section, "exit"),
            Event: keys.Name(section, "event"),
            Exposures: keys.Uses(section, "exposures") ? ReadExposures(section) : [],
            Adjustment: keys.Uses(section, "adjustment") ? ReadAdjustment(section) : [],
            Interactions: keys.Uses(section, "interactions") ? ReadInteractions(section) : [],
            GroupBy: keys.Name(section, "group_by"),
            Characteristics: keys.Uses(section, "characteristics") ? section.Texts("characteristics") : [],
            RandomSlope: keys.Name(section, "random_slope"),
            Keep: ReadFilter(section),
            Family: keys.Name(section, "family"),
            TimeUnitDays: keys.Uses(section, "time_unit_days") ? section.Number("time_unit_days", 1) : 1,
            TimeUnit: keys.Name(section, "time_unit"),
            Place: section.Place)
        {
            Readings = keys.Uses(section, "readings") ? ReadReadings(section) : null,
            Reference = keys.Name(section, "reference"),
            Curves = keys.Uses(section, "curves") ? CurvesReader.Of(section) : null,
            Summaries = keys.Uses(section, "summaries") ? section.Texts("summaries") : [],
            MeasurementError = keys.Uses(section, "measurement_error") ? CurvesReader.Errors(section) : [],
            Sensitivity = keys.Uses(section, "sensitivity") ? SupplementReader.Sensitivity(section) : [],
            NegativeControl = keys.Uses(section, "negative_control") ? SupplementReader.NegativeControl(section) : null,
            MissingData = keys.Uses(section, "missing_data") ? SupplementReader.MissingData(section) : null,
            Subgroups = keys.Uses(section, "subgroups") ? section.Texts("subgroups") : [],
            ShapeKnots = keys.Uses(section, "shape_knots") && section.Has("shape_knots") ? section.WholeNumber("shape_knots") : 4,
        };
        section.Close();
        return question;
    }

    private static ReadingColumn? ReadReadings(YamlSection section)
    {
        if (section.Section("readings") is not { } readings)
            return null;
        ReadingColumn column = new(readings.Text("table"), readings.Text("column"));
        readings.Close();
        return column;
    }

    private static ImmutableArray<ExposureTerm> ReadExposures(YamlSection section)
    {
        ImmutableArray<ExposureTerm>.Builder terms = ImmutableArray.CreateBuilder<ExposureTerm>();
        foreach (YamlSection term in section.Sections("exposures"))
        {
            terms.Add(new ExposureTerm(term.Text("measure"), term.Number("per", 1), term.Number("center", 0), term.OptionalText("reference")));
            term.Close();
        }
        return terms.ToImmutable();
    }

    private static ImmutableArray<AdjustmentTerm> ReadAdjustment(YamlSection section) => AdjustmentTerms(section, "adjustment");

    /// <summary>Adjustment terms below a key, each with its reason.</summary>
    internal static ImmutableArray<AdjustmentTerm> AdjustmentTerms(YamlSection section, string key)
    {
        ImmutableArray<AdjustmentTerm>.Builder terms = ImmutableArray.CreateBuilder<AdjustmentTerm>();
        foreach (YamlSection term in section.Sections(key))
        {
            terms.Add(new AdjustmentTerm(
                term.Text("measure"), term.Number("per", 1), term.Number("center", 0), term.OptionalText("reference"), term.Text("reason")));
            term.Close();
        }
        return terms.ToImmutable();
    }

    private static ImmutableArray<InteractionTerm> ReadInteractions(YamlSection section)
    {
        ImmutableArray<InteractionTerm>.Builder terms = ImmutableArray.CreateBuilder<InteractionTerm>();
        foreach (YamlSection term in section.Sections("interactions"))
        {
            terms.Add(new InteractionTerm(term.Text("first"), term.Text("second")));
            term.Close();
        }
        return terms.ToImmutable();
    }

    /// <summary>The rows to keep, or null for all.</summary>
    internal static RowFilter? ReadFilter(YamlSection section)
    {
        if (section.Section("keep") is not { } keep)
            return null;
        RowFilter filter = new(keep.Text("measure"), keep.Texts("codes"));
        keep.Need("codes", "List the codes of the rows to keep.");
        keep.Close();
        return filter;
    }
}
