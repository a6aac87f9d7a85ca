namespace RotationStudy.Statistics.Imputation;

/// <summary>Multiple imputation by chained equations (fully conditional specification).</summary>
/// <remarks>
/// <para>Every incomplete column has a regression on other columns. Starting from random observed values, the columns are
/// visited in turn (fewest missing values first): the regression is fitted to the rows where the column was observed, parameters are
/// drawn from their posterior, and the missing values are drawn given these. After some passes the table is taken as one completed
/// copy; several copies from independent chains carry the uncertainty, pooled by <see cref="RubinPooling"/>. Works for any pattern;
/// with a monotone pattern one pass would do and more do no harm.</para>
/// <para>Models: predictive mean matching of type 1 (observed rows predicted by the estimate, missing ones by the draw; van
/// Buuren 2018, 3.4.2) with donors picked at random among the nearest, ties included; normal (Rubin 1987, p. 167); logistic and proportional odds with a normal draw about the
/// posterior mode, kept finite under separation by pseudo-rows of total weight one per parameter (White, Daniel and Royston 2010); a random
/// intercept by Gibbs sampling (<see cref="TwoLevelNormalDraw"/> in the source). Predictors that depend on others in a fit are left out of it and named in the warnings.</para>
/// <para>Where values are missing mostly in a tail that few observed rows reach, matching re-uses the few donors there and pulls slopes towards zero
/// (docs/coverage/imputation-reading.md): take the normal model.</para>
/// <para>Assumes that values are missing at random given the other columns; <see cref="ImputedColumn.Delta"/> departs from that by a known shift. The
/// outcome of the analysis belongs into the table, and so does the other row of the same cluster, or the variance between clusters is lost.</para>
/// <para>Each imputation has a random stream of its own index: the same bytes whatever the number of threads.</para>
/// <para><b>Sources.</b> van Buuren S, Flexible Imputation of Missing Data, 2nd ed., 2018, ch. 3, 4 and 7; Rubin DB, Multiple Imputation for
/// Nonresponse in Surveys, 1987; White IR, Daniel R, Royston P, Comput Stat Data Anal 2010;54:2267-2275; Morris TP, White IR, Royston P, BMC Med Res
/// Methodol 2014;14:75. <b>Checked against</b> Imputation/known_regressions, Peers (Monte-Carlo tolerance).</para>
/// </remarks>
public static class ChainedEquations
{
    /// <summary>Completes a table several times.</summary>
    /// <param name="columns">All columns of the imputation model, equal lengths.</param>
    /// <param name="options">Number of imputations and passes, seed, threads.</param>
    /// <param name="clusters">Clusters of rows, for columns with a random intercept.</param>
    /// <exception cref="InvalidInputError">Names, lengths, codes or references that do not agree.</exception>
    /// <exception cref="TooFewDataError">A column without two observed values or two categories, or more predictors than observed rows.</exception>
    public static ImputedTables Run(IReadOnlyList<ImputedColumn> columns, ImputationOptions options, Clusters? clusters = null)
    {
        if (options.Imputations < 1 || options.Iterations < 1 || options.Donors < 1)
            throw new InvalidInputError("imputations, iterations and donors must be at least one", "Ask for 20 imputations, 10 iterations, 5 donors.");
        IncompleteTable table = IncompleteTable.Check(columns, clusters);
        ImputationChain[] chains = new ImputationChain[options.Imputations];
        RunInParallel(chains.Length, options.Threads, m =>
        {
            chains[m] = new ImputationChain(table, options, m);
            chains[m].Run();
        });
        return new ImputedTables(table, options, chains);
    }

    /// <summary>Runs the chains; the first error by index is thrown as it is, not wrapped.</summary>
    private static void RunInParallel(int count, int threads, Action<int> chain)
    {
        StatisticsError?[] errors = new StatisticsError?[count];
        Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = threads }, m =>
        {
            try
            {
                chain(m);
            }
            catch (StatisticsError error)
            {
                errors[m] = error;
            }
        });
        if (Array.Find(errors, e => e is not null) is StatisticsError first)
            throw first;
    }
}
