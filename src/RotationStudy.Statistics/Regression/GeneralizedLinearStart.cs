namespace RotationStudy.Statistics.Regression;

/// <summary>Where Newton's method sets out: the maximum of the model without effects, so that the first step also yields the score test.</summary>
internal static class GeneralizedLinearStart
{
    /// <summary>All coefficients zero but the intercept, which makes the expected number of events the observed one.</summary>
    internal static double[] LogLink(DesignMatrix x, GeneralizedLinearData data)
    {
        double exposure = 0;
        for (int i = 0; i < x.Rows; i++)
            exposure += (data.Weights.IsEmpty ? 1 : data.Weights[i]) * (data.Offset.IsEmpty ? 1 : Math.Exp(data.Offset[i]));
        return InterceptOf(x, Math.Log(data.Events / exposure));
    }

    /// <summary>As <see cref="LogLink"/> for the logit; with an offset the intercept is itself a fit of one coefficient.</summary>
    internal static double[] Logit(DesignMatrix x, GeneralizedLinearData data, GeneralizedLinearOptions options)
    {
        double intercept = Math.Log(data.Events / (data.TotalWeight - data.Events));
        if (!data.Offset.IsEmpty && x.IndexOf(DesignMatrix.InterceptName) >= 0)
        {
            GeneralizedLinearSolver<LogisticFamily> alone = new(default, DesignMatrix.InterceptOnly(x.Rows), data);
            alone.Maximize([intercept], options);
            intercept = alone.Values[0];
        }
        return InterceptOf(x, intercept);
    }

    /// <summary>Coefficients of zero but for the intercept, where the design has one.</summary>
    internal static double[] InterceptOf(DesignMatrix x, double intercept)
    {
        double[] start = new double[x.Columns];
        int at = x.IndexOf(DesignMatrix.InterceptName);
        if (at >= 0)
            start[at] = intercept;
        return start;
    }
}
