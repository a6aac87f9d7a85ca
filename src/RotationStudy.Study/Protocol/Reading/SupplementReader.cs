using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads what a question asks for beside its planned answer.</summary>
internal static class SupplementReader
{
    internal static ImmutableArray<SensitivityAnalysis> Sensitivity(YamlSection section)
    {
        ImmutableArray<SensitivityAnalysis>.Builder analyses = ImmutableArray.CreateBuilder<SensitivityAnalysis>();
        foreach (YamlSection entry in section.Sections("sensitivity"))
        {
            analyses.Add(new SensitivityAnalysis(
                entry.Text("name"), entry.Text("reason"), entry.Texts("leave_out"), PlanReader.ReadFilter(entry),
                entry.Has("when") ? entry.Word<PlannedCheck>("when") : null)
            {
                Replace = [.. entry.Sections("replace").Select(ChoicesReader.ReadSwap)],
                Add = PlanReader.AdjustmentTerms(entry, "add"),
                Model = entry.Section("model") is { } model ? ChoicesReader.ReadModel(model) : null,
                SplitAt = entry.Has("split_at") ? entry.Number("split_at", 0) : null,
            });
            entry.Touch("split_at");
            entry.Close();
        }
        return analyses.ToImmutable();
    }

    internal static NegativeControl? NegativeControl(YamlSection section)
    {
        if (section.Section("negative_control") is not { } entry)
            return null;
        NegativeControl control = new(entry.Text("outcome"), entry.Text("reason"));
        entry.Close();
        return control;
    }

    internal static MissingDataPlan? MissingData(YamlSection section)
    {
        if (section.Section("missing_data") is not { } entry)
            return null;
        MissingDataPlan plan = new(entry.WholeNumber("imputations"), entry.Text("shift"), entry.Numbers("by"), entry.Text("reason"));
        entry.Close();
        return plan;
    }
}
