using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads the choices of plan.yaml: decisions, their options, and what each option changes.</summary>
internal static class ChoicesReader
{
    internal static ImmutableArray<ChoicePlan> Read(YamlSection top)
    {
        ImmutableArray<ChoicePlan>.Builder plans = ImmutableArray.CreateBuilder<ChoicePlan>();
        foreach (YamlSection section in top.Owners("choices", "list of choices"))
        {
            plans.Add(new ChoicePlan(section.Text("question"), section.Text("exposure"), ReadDimensions(section), section.Place));
            section.Need("dimensions", "List what could have been chosen otherwise.");
            section.Close();
        }
        return plans.ToImmutable();
    }

    private static ImmutableArray<ChoiceDimension> ReadDimensions(YamlSection section)
    {
        ImmutableArray<ChoiceDimension>.Builder dimensions = ImmutableArray.CreateBuilder<ChoiceDimension>();
        foreach (YamlSection dimension in section.Sections("dimensions"))
        {
            dimensions.Add(new ChoiceDimension(dimension.Text("name"), [.. dimension.Sections("options").Select(ReadOption)]));
            dimension.Need("options", "List the options, the planned one first.");
            dimension.Close();
        }
        return dimensions.ToImmutable();
    }

    private static ChoiceOption ReadOption(YamlSection section)
    {
        ChoiceOption option = new(
            section.Text("label"),
            section.Text("reason"),
            [.. section.Sections("replace").Select(ReadSwap)],
            section.Texts("leave_out"),
            PlanReader.AdjustmentTerms(section, "add"),
            PlanReader.ReadFilter(section),
            section.Has("merge_within_days") ? section.WholeNumber("merge_within_days") : null,
            section.Has("hip_gate") ? section.Word<HipGateLevel>("hip_gate") : null,
            section.Section("model") is { } model ? ReadModel(model) : null);
        section.Touch("merge_within_days");
        section.Touch("hip_gate");
        section.Close();
        return option;
    }

    internal static MeasureSwap ReadSwap(YamlSection section)
    {
        MeasureSwap swap = new(section.Text("measure"), section.Text("by"));
        section.Close();
        return swap;
    }

    internal static ModelChoice? ReadModel(YamlSection section)
    {
        ModelChoice? model = section.Word<QuestionKind>("kind") is { } kind
            ? new ModelChoice(
                kind,
                section.Word("counts", CountDistribution.NegativeBinomial),
                section.OptionalText("outcome"),
                section.OptionalText("follow_up"),
                section.OptionalText("entry"),
                section.OptionalText("exit"),
                section.OptionalText("event"))
            : null;
        foreach (string key in new[] { "counts", "outcome", "follow_up", "entry", "exit", "event" })
            section.Touch(key);
        section.Close();
        return model;
    }
}
