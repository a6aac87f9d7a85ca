using System.Collections.Immutable;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Measures;

/// <summary>A number cut into named groups; a value equal to a cut point belongs to the group above.</summary>
internal static class NamedGroups
{
    internal static MeasureColumn Derive(GroupsMeasure measure, Derivation derivation)
    {
        MeasureColumn of = derivation.Done[measure.Of];
        MeasureBuilder result = new(of.Index, "no row");
        for (int row = 0; row < of.Index.Rows; row++)
        {
            if (of.Reason(row) is { } reason)
                result.SetMissing(row, reason);
            else
                result.Set(row, measure.CutPoints.Count(cut => of.Values[row] >= cut));
        }
        ImmutableArray<CodeDefinition> codes = [.. measure.Labels.Select(l => new CodeDefinition(l, l))];
        return result.Build(measure, codes);
    }
}
