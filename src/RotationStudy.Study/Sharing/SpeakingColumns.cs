using System.Collections.Immutable;
using RotationStudy.Statistics.Sharing;

namespace RotationStudy.Study.Sharing;

/// <summary>Which columns of the plan say something in the data of all sites: the rule of the pooled analysis, from sums.</summary>
internal static class SpeakingColumns
{
    // A spread under this share of the sum of squares is rounding.
    private const double Rounding = 1e-12;

    internal static (ImmutableArray<int> Kept, ImmutableArray<string> Notes) Of(ImmutableArray<SharedColumn> columns, RegressionSums pooled)
    {
        List<int> kept = [0];
        List<string> notes = [];
        int p = columns.Length;
        for (int j = 1; j < p; j++)
        {
            SharedColumn column = columns[j];
            // At coefficients of zero the weights of the rows are equal, up to follow-up for counts, so these are multiples of sums of squares.
            double square = pooled.Information[(j * p) + j];
            double sum = pooled.Information[j];
            bool silent = square == 0;
            bool constant = !silent && (square * pooled.Information[0]) - (sum * sum) <= Rounding * square * pooled.Information[0];
            if (column.Of.Any(o => !kept.Any(k => columns[k].Name == o)) || silent)
                notes.Add($"{column.Label}: nobody at any site can tell, so it has no estimate.");
            else if (constant && column.Role == "exposure")
                throw new SharingRefusal($"{column.Label} has the same value in every row of all sites, so the data cannot speak about it.", "Choose another exposure or population.");
            else if (constant)
                notes.Add($"{column.Label} has the same value in every row of all sites and was left out of the model.");
            else
                kept.Add(j);
        }
        return ([.. kept], [.. notes]);
    }
}
