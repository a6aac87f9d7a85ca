using System.Collections.Immutable;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Audit;

/// <summary>What an auditor's second run of a study found beside the archived one.</summary>
/// <param name="StudyId">Short name of the study.</param>
/// <param name="StudyTitle">Title of the study.</param>
/// <param name="ArchivedHead">Head of the archived run's record.</param>
/// <param name="Archived">What went into the archived run.</param>
/// <param name="Second">What went into the second run.</param>
/// <param name="Comparison">Bytes of both runs, of the same exports; null for fresh exports.</param>
/// <param name="Data">What changed in the data; null for the same exports.</param>
/// <param name="Findings">Findings that opened and closed; null for the same exports.</param>
/// <param name="Shifts">Every estimate before and after; empty for the same exports.</param>
public sealed record SecondRun(
    string StudyId, string StudyTitle, string ArchivedHead, Provenance Archived, Provenance Second,
    RunComparison? Comparison, DataChanges? Data, FindingChanges? Findings, ImmutableArray<ResultShift> Shifts)
{
    /// <summary>The outcome in a word, for pipelines.</summary>
    public string Outcome => Comparison is { } comparison
        ? comparison.Reproduced ? "reproduced" : "not_reproduced"
        : Shifts.Any(s => s.ConclusionChanged && s.IsPlanned) ? "conclusion_changed"
        : Shifts.Any(s => s.Moved) ? "results_moved" : "results_unchanged";

    /// <summary>The outcome in a sentence.</summary>
    public string Sentence => Comparison is { } comparison ? comparison.Sentence : Moved();

    private string Moved()
    {
        ResultShift[] planned = [.. Shifts.Where(s => s.IsPlanned)];
        string changed = string.Join(", ", planned.Where(s => s.ConclusionChanged).Select(s => $"{s.Id} ({s.ConclusionBefore}, now {s.ConclusionAfter})"));
        string data = Data is { None: true } ? "The records are the same. " : string.Empty;
        int moved = planned.Count(s => s.Moved);
        return $"{data}{NumberFormat.Count(moved, "planned result", "planned results")} of {NumberFormat.Count(planned.Length)} moved. "
            + (changed.Length > 0 ? $"Conclusions that changed: {changed}." : "No conclusion of a planned result changed.");
    }
}

/// <summary>Two runs of the same exports, compared stage by stage and byte by byte.</summary>
/// <param name="OutputsCompared">Files that both have.</param>
/// <param name="Differences">Everything that differs, in the order of the run.</param>
public sealed record RunComparison(int OutputsCompared, ImmutableArray<RunDifference> Differences)
{
    /// <summary>Whether every stage and every byte of every output is the same.</summary>
    public bool Reproduced => !Differences.Any(d => d.Stage is RunDifference.Output || IsStage(d));

    /// <summary>The outcome in a sentence.</summary>
    public string Sentence
    {
        get
        {
            string circumstances = string.Join("; ", Differences.Where(d => d.Stage is RunDifference.Program or RunDifference.Environment).Select(d => $"{d.Item}: {d.What}"));
            string made = circumstances.Length > 0 ? $" The runs were made differently: {circumstances}." : string.Empty;
            if (Reproduced)
                return $"Reproduced to the byte: all {NumberFormat.Count(OutputsCompared)} outputs are the same.{made}";
            RunDifference? stage = Differences.FirstOrDefault(IsStage);
            RunDifference? output = Differences.FirstOrDefault(d => d.Stage == RunDifference.Output);
            return "Not reproduced."
                + (stage is null ? " All stages up to the answers are the same." : $" The runs part at the stage '{stage.Stage}', in {stage.Item}.")
                + (output is null ? string.Empty : $" The first output that differs is {output.Item}: {output.What}.") + made;
        }
    }

    private static bool IsStage(RunDifference difference) => difference.Stage is RunDifference.Answers || StageHash.Order.Contains(difference.Stage);
}

/// <summary>Something that two runs do not share.</summary>
/// <param name="Stage">Stage of the run.</param>
/// <param name="Item">File, table, measure or question.</param>
/// <param name="What">How it differs.</param>
public sealed record RunDifference(string Stage, string Item, string What)
{
    /// <summary>Version of the program.</summary>
    public const string Program = "program";

    /// <summary>Runtime, system, processor, libraries.</summary>
    public const string Environment = "environment";

    /// <summary>Answers of the questions.</summary>
    public const string Answers = "answers";

    /// <summary>Files of the run folder.</summary>
    public const string Output = "output";
}
