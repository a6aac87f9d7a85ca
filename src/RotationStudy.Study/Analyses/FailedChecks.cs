using System.Collections.Immutable;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Says in the answer itself which checks of its model failed, and points at the analysis that the plan named for each. Estimates stay those of the planned model.</summary>
internal static class FailedChecks
{
    internal static QuestionResult Word(QuestionResult answer, QuestionDefinition question)
    {
        ImmutableArray<DiagnosticRow> diagnostics =
            [.. answer.Diagnostics.Select(d => d.Passed == false ? d with { Alternative = Alternative(d.Check, question) } : d)];
        ImmutableArray<DiagnosticFinding> findings =
            [.. answer.Supplement.Findings.Select(f => f.Status == FindingStatus.Doubtful ? f with { Alternative = Alternative(f.Check, question) ?? f.Alternative } : f)];
        (string Check, string? Alternative)[] failed =
        [
            .. diagnostics.Where(d => d.Passed == false).Select(d => (d.Check, d.Alternative)),
            .. findings.Where(f => f.Status == FindingStatus.Doubtful).Select(f => (f.Check, f.Alternative)),
        ];
        return answer with
        {
            Answer = failed.Length == 0 ? answer.Answer : $"{answer.Answer} {Caution(failed)}",
            Diagnostics = diagnostics,
            Supplement = answer.Supplement with { Findings = findings },
        };
    }

    private static string? Alternative(string check, QuestionDefinition question)
        => CheckNames.Of(check) is { } kind ? question.Sensitivity.FirstOrDefault(s => s.When == kind)?.Name : null;

    private static string Caution((string Check, string? Alternative)[] failed)
    {
        string[] named = [.. failed.Select(f => f.Alternative).OfType<string>().Distinct(StringComparer.Ordinal)];
        string beside = named.Length == 0
            ? "The plan names no other analysis for this."
            : $"Read beside it: {Sentences.List(named)}.";
        return $"Take care: {string.Join("; ", failed.Select(f => CheckNames.Reading(f.Check)))}. {beside}";
    }
}
