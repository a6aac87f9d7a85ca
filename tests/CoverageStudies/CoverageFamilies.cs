namespace RotationStudy.CoverageStudies;

/// <summary>The families of estimators and their studies; one file per family adds itself here.</summary>
internal static class CoverageFamilies
{
    internal static IReadOnlyDictionary<string, Func<IReadOnlyList<CoverageStudy>>> All { get; } =
        new SortedDictionary<string, Func<IReadOnlyList<CoverageStudy>>>(StringComparer.Ordinal)
        {
            ["agreement"] = AgreementStudies.Studies,
            ["curves"] = CurveStudies.Studies,
            ["measurement-error"] = MeasurementErrorStudies.Studies,
            ["imputation"] = ImputationStudies.Studies,
            ["resampling"] = ResamplingStudies.Studies,
            ["clustered"] = Clustered.Studies,
            ["mixed"] = Mixed.Studies,
            ["linear"] = Linear.Studies,
            ["binary"] = GeneralizedLinearCoverage.Logistic,
            ["risk-ratios"] = GeneralizedLinearCoverage.RiskRatios,
            ["counts"] = GeneralizedLinearCoverage.Counts,
            ["ordinal"] = GeneralizedLinearCoverage.Ordinal,
            ["firth"] = GeneralizedLinearCoverage.Firth,
            ["recurrent"] = RecurrentCoverage.Studies,
            ["survival"] = SurvivalCoverage.Studies,
            ["pooling"] = PoolingCoverage.Studies,
            ["prediction"] = PredictionCoverage.Studies,
            ["study-questions"] = StudyQuestions.Studies,
        };
}
