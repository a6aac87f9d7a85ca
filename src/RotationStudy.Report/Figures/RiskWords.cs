using RotationStudy.Study.Results;

namespace RotationStudy.Report.Figures;

/// <summary>What the figures of predicted risks have in common.</summary>
internal static class RiskWords
{
    internal const string Caution = "No tool for one patient.";

    /// <summary>The first judgement of the figure's questions.</summary>
    internal static RiskPerformance? Find(StudyResults results, FigureRequest request)
        => results.Risks.FirstOrDefault(r => request.Questions.Contains(r.Question));

    /// <summary>All judgements of the figure's questions: models and samples beside each other.</summary>
    internal static RiskPerformance[] All(StudyResults results, FigureRequest request)
        => [.. results.Risks.Where(r => request.Questions.Contains(r.Question))];

    internal static string Who(StudyFacts study, RiskPerformance risk)
        => $"{FigureWords.Sentence(risk.Model)}, {risk.Outcome}, in {risk.Sample}: {FigureWords.People(study, risk.Counts)}.";

    internal static string Name(RiskPerformance risk, RiskPerformance[] all)
        => all.Length == 1 ? risk.Model : $"{risk.Model}, {risk.Sample}";
}
