using RotationStudy.Statistics;
using RotationStudy.Statistics.Prediction;
using RotationStudy.Statistics.Resampling;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Analyses.Prediction;

/// <summary>Development of a model with all its steps, so that a resample repeats every one of them.</summary>
/// <param name="model">What the protocol declares.</param>
/// <param name="x">Columns without intercept of the rows of development.</param>
/// <param name="y">0 or 1 per row.</param>
/// <param name="persons">Persons of the rows.</param>
/// <param name="seed">The study's seed.</param>
internal sealed class ModelDevelopment(PredictionModel model, DesignMatrix x, double[] y, Clusters persons, ulong seed)
{
    private const int Strengths = 25;

    private readonly bool[] happened = [.. y.Select(v => v > 0)];

    internal CoefficientPenalty Penalty => model.Penalty == PredictionPenalty.Lasso ? CoefficientPenalty.Lasso : CoefficientPenalty.Ridge;

    /// <summary>The model from all rows.</summary>
    /// <exception cref="StatisticsError">The rows do not allow it.</exception>
    internal CrossValidatedFit Develop() => Choose(x, y, persons, 0);

    /// <summary>Apparent performance, optimism and their difference, by resampling persons.</summary>
    /// <exception cref="StatisticsError">Too many resamples allow no model.</exception>
    internal CorrectedPerformance Correct() => OptimismCorrection.Estimate(
        JudgedRisks.Corrected, persons, Judge,
        new BootstrapOptions { Replicates = model.Resamples, Seed = seed, Stream = $"prediction {model.Id}" });

    private (IReadOnlyList<double> OnItself, IReadOnlyList<double> OnOriginal) Judge(Resample resample)
    {
        int[] rows = resample.Rows.ToArray();
        DesignMatrix own = x.SelectRows(rows);
        // Copies of a person are one cluster here: else a person could be on both sides of the cross-validation.
        PenalizedFit fit = Choose(own, [.. rows.Select(r => y[r])], persons.SelectRows(rows), Mark(resample)).Fit;
        return (JudgedRisks.Quick([.. rows.Select(r => happened[r])], fit.Risks(own)), JudgedRisks.Quick(happened, fit.Risks(x)));
    }

    private CrossValidatedFit Choose(DesignMatrix columns, double[] outcome, Clusters clusters, long index)
        => CrossValidatedPenalty.Choose(columns, outcome, clusters, Penalty, model.Folds, new RandomStream(seed, $"prediction {model.Id} folds", index), Strengths);

    // A number that the resample alone decides, so that its folds are the same whatever thread draws it; 0 for the rows themselves.
    private static long Mark(Resample resample)
    {
        if (!resample.TimesDrawn.ContainsAnyExcept(1))
            return 0;
        long mark = 0;
        foreach (int times in resample.TimesDrawn)
            mark = unchecked((mark * 31) + times) & 0x7FFF_FFFF_FFFF;
        return mark + 1;
    }
}
