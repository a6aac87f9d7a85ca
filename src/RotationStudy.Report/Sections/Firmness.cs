using RotationStudy.Study.Results;

namespace RotationStudy.Report.Sections;

/// <summary>How firm an answer is, in one sentence from its checks and warnings. No score: what speaks against it is named.</summary>
internal static class Firmness
{
    internal static string Words(QuestionResult question)
    {
        if (!question.Answered)
            return "No estimate could be given.";
        string[] against =
        [
            .. question.Diagnostics.Where(d => d.Passed == false).Select(d => d.Check),
            .. question.Supplement.Findings.Where(f => f.Status == FindingStatus.Doubtful).Select(f => f.Check),
        ];
        int clear = question.Diagnostics.Count(d => d.Passed == true) + question.Supplement.Findings.Count(f => f.Status == FindingStatus.Held);
        string checks = against.Length > 0 ? $"Take care: {string.Join(", ", against)} {(against.Length == 1 ? "speaks" : "speak")} against the model."
            : clear > 0 ? $"{NumberFormat.Count(clear, "check of the model finds", "checks of the model find")} nothing against it."
            : question.Diagnostics.IsEmpty ? "Descriptive; no model was checked." : "The checks inform only.";
        string warnings = question.Warnings.IsEmpty ? "" : $" {NumberFormat.Count(question.Warnings.Length, "warning", "warnings")}: see the details.";
        return checks + LeftOut(question) + warnings;
    }

    /// <summary>What a check found, in a word or two.</summary>
    internal static string Status(FindingStatus status) => status switch
    {
        FindingStatus.Held => "held",
        FindingStatus.Doubtful => "DOUBTFUL",
        _ => "not checkable",
    };

    private static string LeftOut(QuestionResult question)
    {
        int leftOut = question.LeftOut.Sum(r => r.Rows);
        int all = leftOut + question.Counts.Rows;
        return leftOut == 0 || all == 0 ? "" : $" {NumberFormat.Percent((double)leftOut / all)} of the rows could not be used.";
    }
}
