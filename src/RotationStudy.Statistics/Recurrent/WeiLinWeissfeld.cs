using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Recurrent;

/// <summary>How do covariates change the time to the first, second, ... event, each seen on its own? The marginal model of Wei, Lin and Weissfeld.</summary>
/// <remarks>
/// Each unit is at risk of every event number from its entry on, whether the events before have happened or not; each number is
/// a stratum. Coefficients are common to all numbers, or one set for each with their joint cluster-robust covariance.
/// <para>Every number is a marginal comparison of the groups as they were, but the events are not disjoint: an effect on the
/// first shows in the later ones too. A unit followed to no further event is censored at its end for that number.</para>
/// <para>Fitting, ties, edges and errors thrown as in <see cref="CoxRegression"/>; an event number that hardly any unit reaches
/// leaves its own coefficients undetermined and is refused there.</para>
/// <para><b>Sources</b>: Wei LJ, Lin DY and Weissfeld L, J Am Stat Assoc 1989;84:1065-1073.</para>
/// <para><b>Checked against</b>: Recurrent/bladder.</para>
/// </remarks>
public static class WeiLinWeissfeld
{
    /// <summary>Fits coefficients common to all event numbers.</summary>
    /// <param name="events">Histories of n units.</param>
    /// <param name="x">Covariates, n units by p columns, no intercept.</param>
    /// <param name="lastNumber">Largest event number that is looked at, 1 or more.</param>
    /// <param name="clusters">Units that may be dependent, n; null: units are independent of one another.</param>
    /// <param name="options">Ties and variance; null for the defaults.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree with the units, or a last number below 1.</exception>
    /// <exception cref="StatisticsError">As in <see cref="CoxRegression"/>.</exception>
    public static CoxFit Fit(RecurrentEvents events, DesignMatrix x, int lastNumber, Clusters? clusters = null, CoxOptions? options = null)
        => Rows(events, lastNumber).Fit(events, x, clusters, byNumber: true, options);

    /// <summary>Fits one set of coefficients per event number, named "column, event k", with their joint covariance.</summary>
    /// <param name="events">Histories of n units.</param>
    /// <param name="x">Covariates, n units by p columns, no intercept.</param>
    /// <param name="lastNumber">Largest event number that is looked at, 1 or more.</param>
    /// <param name="clusters">Units that may be dependent, n; null: units are independent of one another.</param>
    /// <param name="options">Ties and variance; null for the defaults.</param>
    /// <exception cref="InvalidInputError">Lengths that do not agree with the units, or a last number below 1.</exception>
    /// <exception cref="StatisticsError">As in <see cref="CoxRegression"/>.</exception>
    public static CoxFit FitByNumber(RecurrentEvents events, DesignMatrix x, int lastNumber, Clusters? clusters = null, CoxOptions? options = null)
    {
        Require.SameLength(x.Rows, events.Units, "covariates");
        RiskRows rows = Rows(events, lastNumber);
        List<(string, IReadOnlyList<double>)> columns = [];
        for (int k = 1; k <= lastNumber; k++)
        {
            for (int j = 0; j < x.Columns; j++)
            {
                double[] own = new double[rows.Unit.Length];
                for (int r = 0; r < own.Length; r++)
                    own[r] = rows.EventNumber[r] == k ? x[rows.Unit[r], j] : 0;
                columns.Add(($"{x.Names[j]}, event {k}", own));
            }
        }
        int[] unitOfRow = rows.Unit;
        if (clusters is not null)
            Require.SameLength(clusters.Rows, events.Units, "clusters");
        return CoxRegression.Fit(
            rows.Times,
            DesignMatrix.FromColumns([.. columns]),
            (clusters ?? Clusters.EachRow(events.Units)).SelectRows(unitOfRow),
            Clusters.From(rows.EventNumber),
            options: options);
    }

    private static RiskRows Rows(RecurrentEvents events, int lastNumber)
        => lastNumber >= 1
            ? events.MarginalRows(lastNumber)
            : throw new InvalidInputError($"the last event number is {lastNumber}", "Number events from 1.");
}
