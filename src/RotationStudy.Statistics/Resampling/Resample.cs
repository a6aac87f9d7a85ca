namespace RotationStudy.Statistics.Resampling;

/// <summary>Rows of one resampled data set: whole clusters, each with all its rows, a cluster drawn twice counting as two.</summary>
/// <remarks>
/// A statistic uses either <see cref="Rows"/> with <see cref="Clusters"/> (any estimator), or <see cref="TimesDrawn"/>
/// as frequency weights of the original rows (faster, where the estimator takes weights).
/// </remarks>
public sealed class Resample
{
    private readonly int[] rows;
    private readonly int[] drawOfRow;
    private readonly int[] timesDrawn;
    private Clusters? clusters;

    private Resample(int[] rows, int[] drawOfRow, int[] timesDrawn)
    {
        this.rows = rows;
        this.drawOfRow = drawOfRow;
        this.timesDrawn = timesDrawn;
    }

    /// <summary>Positions in the original data, in the order of the draws.</summary>
    public ReadOnlySpan<int> Rows => rows;

    /// <summary>How often each original cluster was drawn; length the number of original clusters.</summary>
    public ReadOnlySpan<int> TimesDrawn => timesDrawn;

    /// <summary>The clusters of <see cref="Rows"/>: one per draw.</summary>
    public Clusters Clusters => clusters ??= Clusters.From(drawOfRow);

    /// <summary>The resample made of the given clusters, in that order.</summary>
    internal static Resample Of(Clusters original, ReadOnlySpan<int> drawn)
    {
        int[] times = new int[original.Count];
        int total = 0;
        foreach (int cluster in drawn)
        {
            times[cluster]++;
            total += original.Members(cluster).Length;
        }
        int[] rows = new int[total];
        int[] draw = new int[total];
        int at = 0;
        for (int d = 0; d < drawn.Length; d++)
        {
            ReadOnlySpan<int> members = original.Members(drawn[d]);
            members.CopyTo(rows.AsSpan(at));
            draw.AsSpan(at, members.Length).Fill(d);
            at += members.Length;
        }
        return new Resample(rows, draw, times);
    }

    /// <summary>The original data: every cluster once.</summary>
    internal static Resample Original(Clusters original)
    {
        int[] all = new int[original.Count];
        for (int c = 0; c < all.Length; c++)
            all[c] = c;
        return Of(original, all);
    }
}
