using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Prediction;

/// <summary>A measure of performance as it looks where the model was developed, and as it is to be expected elsewhere.</summary>
/// <param name="Name">Name of the measure.</param>
/// <param name="Apparent">On the rows of development.</param>
/// <param name="Optimism">Mean over the resamples of (on the resample less on the original rows).</param>
public sealed record CorrectedMeasure(string Name, double Apparent, double Optimism)
{
    /// <summary>Apparent less optimism.</summary>
    public double Corrected => Apparent - Optimism;
}

/// <summary>Performance corrected for optimism.</summary>
/// <param name="Measures">The measures, in order.</param>
/// <param name="Replicates">Resamples used.</param>
/// <param name="Failures">Resamples in which the model could not be developed or judged.</param>
public sealed record CorrectedPerformance(IReadOnlyList<CorrectedMeasure> Measures, int Replicates, int Failures)
{
    /// <summary>The measure of that name.</summary>
    /// <exception cref="InvalidInputError">No measure has that name.</exception>
    public CorrectedMeasure this[string name]
        => Measures.FirstOrDefault(m => m.Name == name) ?? throw new InvalidInputError($"no measure is called '{name}'", $"There are {string.Join(", ", Measures.Select(m => m.Name))}.");
}

/// <summary>Internal validation: how much better a model looks on the rows it was developed on than on new ones.</summary>
/// <remarks>
/// <para>Whole clusters are drawn with replacement; on every resample the model is developed anew with all its steps, the choice of its
/// penalty included, and judged both on the resample and on the original rows. The mean difference is the optimism, which is
/// taken off the apparent performance (Harrell 1996; Efron and Tibshirani 1993, section 17.6). A resample without events or with a model
/// that cannot be judged is left out and counted; over a tenth of them is an error.</para>
/// <para>This corrects for fitting noise of these rows. It says nothing of other places, other measurement or other times.</para>
/// <para><b>Sources</b>: Harrell FE, Lee KL, Mark DB. Stat Med 1996;15:361-387; Steyerberg EW et al. J Clin Epidemiol 2001;54:774-781 (recalled, not re-read).
/// <b>Checked against</b>: a case worked by hand.</para>
/// </remarks>
public static class OptimismCorrection
{
    /// <summary>Estimates it.</summary>
    /// <param name="names">Names of the measures.</param>
    /// <param name="clusters">Clusters of the original rows.</param>
    /// <param name="judge">Given the rows to develop on: the measures on these rows, and the measures of the same model on the original rows. Called from several threads at once.</param>
    /// <param name="options">Replicates, seed, stream.</param>
    /// <exception cref="NotConvergedError">More than a tenth of the resamples failed.</exception>
    public static CorrectedPerformance Estimate(
        IReadOnlyList<string> names, Clusters clusters, Func<Resample, (IReadOnlyList<double> OnItself, IReadOnlyList<double> OnOriginal)> judge, BootstrapOptions options)
    {
        int m = names.Count;
        string[] both = [.. names, .. names.Select(n => n + " on the original rows")];
        BootstrapResult runs = PersonBootstrap.Run(both, clusters, resample =>
        {
            (IReadOnlyList<double> itself, IReadOnlyList<double> original) = judge(resample);
            return [.. itself, .. original];
        }, options);
        CorrectedMeasure[] measures = new CorrectedMeasure[m];
        for (int k = 0; k < m; k++)
        {
            double optimism = 0;
            for (int r = 0; r < runs.Replicates; r++)
                optimism += (runs.Replicate(r, k) - runs.Replicate(r, m + k)) / runs.Replicates;
            measures[k] = new CorrectedMeasure(names[k], runs.Original(k), optimism);
        }
        return new CorrectedPerformance(measures, runs.Replicates, runs.Failures);
    }
}
