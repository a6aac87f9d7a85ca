namespace RotationStudy.Statistics;

/// <summary>About how far each coefficient would move if one cluster were left out: one Newton step away from the full fit.</summary>
/// <remarks>
/// A by-product of the cluster-robust variance, which is made of the same steps, so that it costs nothing. Shifts are the
/// inverse information times the cluster's score, scored as the variance has it (with CR2 or left out by one step). They
/// order the clusters well and understate the farthest; refit without those that matter. Sources: Pregibon D. Ann Stat
/// 1981;9:705-724; Cain KC, Lange NT. Biometrics 1984;40:493-499 (proportional hazards).
/// </remarks>
public sealed class LeaveOutShifts
{
    private readonly double[] shifts;
    private readonly int terms;
    private readonly int[]? unitOfCluster;

    private LeaveOutShifts(double[] shifts, int terms, int[]? unitOfCluster)
        => (this.shifts, this.terms, this.unitOfCluster) = (shifts, terms, unitOfCluster);

    /// <summary>Number of clusters, numbered as the caller numbered them.</summary>
    public int Clusters => unitOfCluster?.Length ?? shifts.Length / terms;

    /// <summary>About the estimate without the cluster minus the estimate with it, on the scale of the model.</summary>
    public double Of(int cluster, int term)
    {
        int unit = unitOfCluster is null ? cluster : unitOfCluster[cluster];
        return unit < 0 ? 0 : -shifts[(unit * terms) + term];
    }

    /// <summary>The clusters that move one coefficient most, the farthest first; ties by number.</summary>
    public IReadOnlyList<int> Farthest(int term, int count)
    {
        PriorityQueue<int, (double, int)> kept = new();
        for (int c = 0; c < Clusters; c++)
        {
            (double, int) rank = (Math.Abs(Of(c, term)), -c);
            if (kept.Count < count)
                kept.Enqueue(c, rank);
            else
                kept.EnqueueDequeue(c, rank);
        }
        int[] farthest = new int[kept.Count];
        for (int i = farthest.Length - 1; i >= 0; i--)
            farthest[i] = kept.Dequeue();
        return farthest;
    }

    /// <summary>Steps that are at hand, cluster after cluster.</summary>
    internal static LeaveOutShifts FromSteps(double[] steps, int terms) => new(steps, terms, null);

    /// <summary>Steps root times sums, for sums that are kept column after column.</summary>
    internal static LeaveOutShifts FromSums(ReadOnlySpan<double> root, ReadOnlySpan<double> sums, int terms)
    {
        int clusters = sums.Length / terms;
        double[] steps = new double[sums.Length];
        for (int j = 0; j < terms; j++)
        {
            for (int k = 0; k < terms; k++)
            {
                double weight = root[(j * terms) + k];
                if (weight == 0)
                    continue;
                ReadOnlySpan<double> column = sums.Slice(k * clusters, clusters);
                for (int c = 0; c < clusters; c++)
                    steps[(c * terms) + j] += weight * column[c];
            }
        }
        return new LeaveOutShifts(steps, terms, null);
    }

    /// <summary>The same under the caller's numbering: the unit of each cluster, -1 for those that carry nothing.</summary>
    internal LeaveOutShifts Renumbered(int[] unitOf) => new(shifts, terms, unitOf);
}
