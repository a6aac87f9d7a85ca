using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>What a stage of the run held, as a hash of its values: two runs that differ are compared stage by stage.</summary>
/// <param name="Stage">Stage, see <see cref="StageHash.Order"/>.</param>
/// <param name="Item">Table, measure or question.</param>
/// <param name="Rows">Rows of it.</param>
/// <param name="Sha256">Hash over keys and values, whatever the order of rows in the exports.</param>
public sealed record StageHash(string Stage, string Item, int Rows, string Sha256)
{
    /// <summary>Checked records of a table.</summary>
    public const string Records = "checked records";

    /// <summary>Values of a measure.</summary>
    public const string Measures = "measures";

    /// <summary>Complete rows of a question.</summary>
    public const string Tables = "analysed rows";

    /// <summary>The stages in the order of the run.</summary>
    public static ImmutableArray<string> Order { get; } = [Records, Measures, Tables];
}

/// <summary>Where the numbers of a question come from.</summary>
/// <param name="Rows">Rows analysed.</param>
/// <param name="LeftOut">Rows of the population left out.</param>
/// <param name="RowsSha256">Hash over keys and values of the rows analysed.</param>
/// <param name="RowsFile">File of the run folder that lists the rows by their ids.</param>
/// <param name="Measures">Measures that the question reads, itself or through others, in declared order.</param>
/// <param name="Tables">Tables that these read.</param>
/// <param name="ExportFiles">Files of the export that hold these tables.</param>
/// <param name="Checks">Checks with findings on these tables and columns, about the participants of the population or about nobody in particular.</param>
public sealed record QuestionTrace(
    int Rows, int LeftOut, string RowsSha256, string RowsFile,
    ImmutableArray<string> Measures, ImmutableArray<string> Tables, ImmutableArray<string> ExportFiles, ImmutableArray<TouchedCheck> Checks);

/// <summary>A check that had something to say about rows of a question.</summary>
/// <param name="Rule">Id of the check.</param>
/// <param name="Severity">What it does, in words.</param>
/// <param name="Findings">Number of findings.</param>
/// <param name="Participants">Number of participants they are about; 0 where they name nobody.</param>
public sealed record TouchedCheck(string Rule, string Severity, int Findings, int Participants);

/// <summary>The rows of a question's population by their ids; a file of the run folder, no part of results.json.</summary>
/// <param name="Question">Question id.</param>
/// <param name="HasSides">Whether rows are sides.</param>
/// <param name="HasOccasions">Whether rows are visits, weeks or running numbers.</param>
/// <param name="Rows">The rows, in key order.</param>
public sealed record QuestionRows(string Question, bool HasSides, bool HasOccasions, ImmutableArray<TracedRow> Rows);

/// <summary>A row by its ids.</summary>
/// <param name="Participant">Identifier.</param>
/// <param name="Side">Side; empty for none.</param>
/// <param name="Occasion">Visit, week or running number; empty for none.</param>
/// <param name="LeftOut">Why the row was not analysed; null when it was.</param>
public readonly record struct TracedRow(string Participant, string Side, string Occasion, string? LeftOut);

/// <summary>The sealed plan and what the plan of this run changed in it.</summary>
/// <param name="Dated">Date of the seal as the users state it, ISO.</param>
/// <param name="Sha256">Hash of the seal.</param>
/// <param name="Deviations">Every change since; empty when the plan is as sealed.</param>
public sealed record PlanSealFacts(string Dated, string Sha256, ImmutableArray<PlanDeviation> Deviations);

/// <summary>Something that the plan says differently from the sealed one.</summary>
/// <param name="File">File of the protocol.</param>
/// <param name="Where">Path within the file, such as questions / Q2 / exposures / anteversion / per; empty for the whole file.</param>
/// <param name="Sealed">What the sealed plan says; null where it says nothing.</param>
/// <param name="Now">What the plan says now; null where it says nothing.</param>
public sealed record PlanDeviation(string File, string Where, string? Sealed, string? Now);

/// <summary>A use of random numbers: a stream of its own from the one seed.</summary>
/// <param name="Stream">Name of the stream.</param>
/// <param name="Use">What it is for, in words.</param>
public sealed record RandomUse(string Stream, string Use);
