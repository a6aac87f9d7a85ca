using System.Collections.Immutable;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Tables;

/// <summary>The complete rows of one question: keys and the measures that its model needs, without a gap.</summary>
/// <param name="Level">What a row is.</param>
/// <param name="Keys">Key of each row.</param>
/// <param name="StudyKeys">Lists that the keys point into.</param>
/// <param name="Columns">The measures needed, each with one value per row.</param>
/// <param name="LeftOut">Rows of the population that are not in the table, by first reason found.</param>
/// <param name="Population">Rows of the population: those in the table plus those left out.</param>
public sealed record AnalysisTable(
    RowLevel Level,
    ImmutableArray<RowKey> Keys,
    StudyKeys StudyKeys,
    ImmutableArray<TableColumn> Columns,
    ImmutableArray<ReasonCount> LeftOut,
    int Population)
{
    /// <summary>The rows left out, in key order, each with the first reason found.</summary>
    public ImmutableArray<(RowKey Key, string Reason)> LeftOutRows { get; init; } = [];

    /// <summary>Number of rows.</summary>
    public int Rows => Keys.Length;

    /// <summary>Position of each row's participant in the list of participants: the cluster.</summary>
    public ImmutableArray<int> Participants { get; } = [.. Keys.Select(k => k.Participant)];

    /// <summary>Number of distinct participants.</summary>
    public int ParticipantCount => Participants.Distinct().Count();

    /// <summary>Number of distinct units; 0 where rows are no sides.</summary>
    public int UnitCount => Level.HasSides() ? Keys.Select(k => (k.Participant, k.Side)).Distinct().Count() : 0;

    /// <summary>The column of a measure.</summary>
    /// <exception cref="KeyNotFoundException">The table was built without it.</exception>
    public TableColumn this[string measure]
        => Columns.FirstOrDefault(c => c.Measure.Definition.Id == measure) ?? throw new KeyNotFoundException($"The table was built without '{measure}'.");
}

/// <summary>A measure in an analysis table.</summary>
/// <param name="Measure">The measure.</param>
/// <param name="Values">One value per row; for a coded measure the position of the code.</param>
public sealed record TableColumn(MeasureColumn Measure, ImmutableArray<double> Values);
