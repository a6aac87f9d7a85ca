using RotationStudy.Statistics;
using RotationStudy.Statistics.Mixed;
using RotationStudy.Statistics.Regression;
using RotationStudy.Statistics.Survival;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Analyses;

/// <summary>The model of a question without words around it, for the analyses that fit it again with something changed.</summary>
internal static class PlannedModel
{
    /// <summary>Scale of the exposures' estimates.</summary>
    internal static string Scale(QuestionKind kind) => kind switch
    {
        QuestionKind.Odds or QuestionKind.OrderedOdds or QuestionKind.WithinPerson => "odds ratio",
        QuestionKind.Rate or QuestionKind.AllEvents => "rate ratio",
        QuestionKind.TimeToFirst => "hazard ratio",
        QuestionKind.RecurrentEvents => "ratio of mean numbers",
        QuestionKind.CompetingEvents => "subdistribution hazard ratio",
        _ => "difference",
    };

    /// <summary>Whether estimates are ratios, exponentials of the coefficients.</summary>
    internal static bool IsRatio(QuestionKind kind) => kind is not (QuestionKind.Mean or QuestionKind.Trajectory or QuestionKind.Baseline);

    /// <summary>The coefficients with the variance of the planned answer.</summary>
    /// <exception cref="StatisticsError">The data do not allow the fit.</exception>
    internal static Coefficients Fit(AnalysisInput input) => Fit(input, input.Clusters());

    /// <summary>The coefficients alone count: the variance takes rows as independent, which is quicker.</summary>
    /// <exception cref="StatisticsError">The data do not allow the fit.</exception>
    internal static Coefficients FitModelBased(AnalysisInput input) => Fit(input, null);

    private static Coefficients Fit(AnalysisInput input, Clusters? clusters)
    {
        QuestionDefinition question = input.Question;
        switch (question.Kind)
        {
            case QuestionKind.Mean:
                LinearRegressionResult linear = LinearRegression.Fit(input.DesignWithIntercept(), input.Values(question.Outcome));
                return clusters is null ? linear.ModelBased : linear.ClusterRobust(clusters);
            case QuestionKind.Trajectory:
                return LinearMixedModel.Fit(input.DesignWithIntercept(), input.Values(question.Outcome), TrajectoryAnalysis.Terms(input)).Coefficients;
            case QuestionKind.Odds:
                return LogisticRegression.Fit(input.DesignWithIntercept(), input.Values(question.Outcome).AsSpan(), clusters).Coefficients;
            case QuestionKind.Rate:
                double[] offset = [.. input.Values(question.FollowUp).Select(v => Math.Log(v / question.TimeUnitDays))];
                return NegativeBinomialRegression.Fit(input.DesignWithIntercept(), input.Values(question.Outcome).AsSpan(), offset, clusters).Regression.Coefficients;
            case QuestionKind.TimeToFirst or QuestionKind.AllEvents:
                return CoxRegression.Fit(TimeToFirstAnalysis.Times(input), input.Design(), clusters).Coefficients;
            case QuestionKind.OrderedOdds:
                return OrderedOddsAnalysis.Fit(input, clusters).Coefficients;
            case QuestionKind.CompetingEvents:
                return FineGray.Fit(CompetingEventsAnalysis.Times(input), 1, input.Design(), clusters).Coefficients;
            case QuestionKind.RecurrentEvents:
                return RecurrentEventsAnalysis.Fit(input, clusters);
            case QuestionKind.WithinPerson:
                return WithinPersonAnalysis.Fit(input).Coefficients;
            default:
                throw new NotSupportedException($"Question kind {question.Kind} has no model.");
        }
    }

    /// <summary>The same input with some rows only; terms keep their columns.</summary>
    internal static AnalysisInput WithRows(AnalysisInput input, int[] rows)
    {
        return input with
        {
            Table = TableOf(input.Table, rows),
            Terms = input.Terms with { Terms = [.. input.Terms.Terms.Select(t => t with { Values = [.. rows.Select(r => t.Values[r])] })] },
        };
    }

    /// <summary>Some rows of a table.</summary>
    internal static AnalysisTable TableOf(AnalysisTable table, int[] rows) => new(
        table.Level, [.. rows.Select(r => table.Keys[r])], table.StudyKeys,
        [.. table.Columns.Select(c => new TableColumn(c.Measure, [.. rows.Select(r => c.Values[r])]))],
        table.LeftOut, table.Population);
}
