using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of the hip-first gate.</summary>
internal static class HipGateRules
{
    private static readonly Place Top = PlaceBook.TopOf("plan.yaml");

    internal static void Check(RuleContext context)
    {
        if (context.Protocol.Plan.HipGate is not { } gate)
            return;
        TableDefinition? table = context.Table(Top, "hip_gate.table", gate.Table);
        ColumnDefinition? column = context.CodeColumn(Top, "hip_gate.column", table, gate.Column);
        for (int i = 0; i < gate.ClearCodes.Length; i++)
            context.Code(Top, $"hip_gate.clear_codes[{i}]", column, gate.ClearCodes[i]);
        if (table is not null && !table.Key.Any(k => table.Column(k)?.Role == ColumnRole.Visit))
        {
            context.Fault(
                Top, "hip_gate.table", $"Table '{table.Name}' has no visits, so no visit can be set aside.",
                "Name the table of the examinations.");
        }
        if (gate.Cleared is { } name && context.Table(Top, "hip_gate.cleared", name) is { } cleared && cleared.Column(ColumnRole.Visit) is null)
            context.Fault(Top, "hip_gate.cleared", $"Table '{name}' has no visits, so it can clear none.", "Give it participant and visit.");
    }
}
