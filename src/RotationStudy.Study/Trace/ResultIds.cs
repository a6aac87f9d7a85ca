using System.Collections.Immutable;
using System.Text;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Trace;

/// <summary>An estimate under its id.</summary>
/// <param name="Id">Id, such as Q2.anteversion; the same in every run of a plan.</param>
/// <param name="Place">main; beside (by another planned method); or the name of the further analysis.</param>
/// <param name="Estimate">The estimate.</param>
/// <param name="Counts">What it rests on; null where only that of the question is known.</param>
public sealed record IdentifiedEstimate(string Id, string Place, EstimateRow Estimate, AnalysisCounts? Counts);

/// <summary>Ids of estimates: question and term, and between them beside or the analysis where it is not the planned one.</summary>
/// <remarks>An id depends on the plan alone, so that it names the same estimate in every run.</remarks>
public static class ResultIds
{
    /// <summary>Place of the planned estimates.</summary>
    public const string Main = "main";

    /// <summary>Place of estimates by another planned method.</summary>
    public const string Beside = "beside";

    /// <summary>All estimates of all questions, in the order of the plan.</summary>
    public static IEnumerable<IdentifiedEstimate> Of(StudyResults results) => results.Questions.SelectMany(Of);

    /// <summary>All estimates of a question: planned, beside, further analyses, imputation.</summary>
    public static IEnumerable<IdentifiedEstimate> Of(QuestionResult question)
    {
        Dictionary<string, int> seen = new(StringComparer.Ordinal);
        IEnumerable<(string Prefix, string Place, ImmutableArray<EstimateRow> Rows, AnalysisCounts? Counts)> parts =
        [
            (question.Id, Main, question.Estimates, question.Counts),
            ($"{question.Id}.beside", Beside, question.Beside, question.Counts),
            .. question.Supplement.Others.Select(o => ($"{question.Id}.{Word(o.Name)}", o.Name, o.Estimates, (AnalysisCounts?)o.Counts)),
            .. (question.Supplement.MissingData?.Approaches ?? []).Select(a => ($"{question.Id}.missing.{Word(a.Name)}", a.Name, a.Estimates, (AnalysisCounts?)null)),
        ];
        foreach ((string prefix, string place, ImmutableArray<EstimateRow> rows, AnalysisCounts? counts) in parts)
        {
            foreach (EstimateRow row in rows)
            {
                string id = $"{prefix}.{Word(row.Term)}";
                int repeats = seen[id] = seen.GetValueOrDefault(id) + 1;
                yield return new IdentifiedEstimate(repeats == 1 ? id : FormattableString.Invariant($"{id}.{repeats}"), place, row, counts);
            }
        }
    }

    /// <summary>A text as one word: letters, digits, underscores, and hyphens for the rest.</summary>
    private static string Word(string text)
    {
        StringBuilder word = new();
        foreach (char c in text)
        {
            if (char.IsAsciiLetterOrDigit(c) || c == '_')
                word.Append(c);
            else if (word.Length > 0 && word[^1] != '-')
                word.Append('-');
        }
        return word.ToString().TrimEnd('-');
    }
}
