namespace RotationStudy.Statistics.Multiplicity;

/// <summary>A family of hypotheses at one place of the order.</summary>
/// <param name="Name">What the family is called, such as "primary".</param>
/// <param name="PValues">Unadjusted p values, at least one.</param>
public sealed record HypothesisFamily(string Name, IReadOnlyList<double> PValues);

/// <summary>Families tested in an order fixed beforehand: the next is opened only when every hypothesis before it was rejected.</summary>
/// <remarks>
/// <para>Within a family Holm's adjustment holds the rate; a hypothesis' adjusted p value is the larger of its own and of the
/// largest adjusted value in all families before (serial gatekeeping). With families of one this is the fixed-sequence
/// test, each at full level. The family-wise error rate over all families is held under any dependence.</para>
/// <para>The order must be fixed before the data are seen; otherwise nothing is held.</para>
/// <para><b>Sources.</b> Maurer W, Hothorn LA, Lehmacher W, in: Biometrie in der chemisch-pharmazeutischen Industrie 6, 1995, 3-18;
/// Westfall PH, Krishen A, J Stat Plan Inference 2001;99:25-40. <b>Checked against</b> a case by hand.</para>
/// </remarks>
public static class Gatekeeping
{
    /// <summary>Adjusted p values, one list per family in the order given.</summary>
    /// <exception cref="InvalidInputError">An empty family, a p value outside 0 to 1.</exception>
    public static IReadOnlyList<IReadOnlyList<double>> Adjust(params IReadOnlyList<HypothesisFamily> families)
    {
        List<IReadOnlyList<double>> adjusted = [];
        double gate = 0;
        foreach (HypothesisFamily family in families)
        {
            if (family.PValues.Count == 0)
                throw new InvalidInputError($"family '{family.Name}' holds no hypothesis", "Leave it out of the order.", column: family.Name);
            double before = gate;
            double[] own = [.. HolmAdjustment.Adjust(family.PValues).Select(p => Math.Max(p, before))];
            gate = own.Max();
            adjusted.Add(own);
        }
        return adjusted;
    }
}
