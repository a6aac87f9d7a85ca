using RotationStudy.Statistics;
using RotationStudy.Study.Results;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Analyses.Prediction;

/// <summary>Rows of a sample with all columns that the protocol makes, so that development and validation have the same.</summary>
internal sealed class PredictionSampleRows
{
    private readonly AnalysisTable table;
    private readonly Dictionary<string, ModelTerm> terms;

    private PredictionSampleRows(AnalysisInput input, AnalysisTable table)
    {
        this.table = table;
        terms = TermBuilder.EveryColumn(input.Question, table).ToDictionary(t => t.Name, StringComparer.Ordinal);
        Outcome = [.. table[input.Question.Outcome!].Values.Select(v => v > 0 ? 1.0 : 0.0)];
    }

    /// <summary>0 or 1 per row.</summary>
    internal double[] Outcome { get; }

    /// <summary>Whether it happened, per row.</summary>
    internal bool[] Happened => [.. Outcome.Select(v => v > 0)];

    internal Clusters Persons => Clusters.From(table.Participants);

    internal int People => table.ParticipantCount;

    internal AnalysisCounts Counts => new(table.ParticipantCount, table.UnitCount, table.Rows, (int)Outcome.Sum(), 0, null);

    /// <summary>Names of the columns that are not the same in every row.</summary>
    internal IEnumerable<string> SpeakingTerms => terms.Values.Where(t => t.Values.Any(v => v != t.Values[0])).Select(t => t.Name);

    internal static PredictionSampleRows Of(AnalysisInput input, int[] rows) => new(input, PlannedModel.TableOf(input.Table, rows));

    internal string Label(string name) => terms[name].Label;

    /// <summary>Some of the columns, without intercept.</summary>
    internal DesignMatrix Design(IEnumerable<string> names)
        => DesignMatrix.FromColumns([.. names.Select(n => (n, (IReadOnlyList<double>)terms[n].Values))]);
}
