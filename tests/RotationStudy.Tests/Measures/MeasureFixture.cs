using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Tests.Measures;

/// <summary>A two-table study small enough to work out by hand: a roster, knee examinations by visit, side and rater, and events.</summary>
internal sealed class MeasureFixture
{
    private static readonly Place Nowhere = new("test.yaml", 1, 1);
    private readonly List<(string Id, double? LastContact, double? Age, string? Sex)> roster = [];
    private readonly List<(string Id, string Visit, string Side, string Rater, string? Hip, double? Internal, double? External)> exams = [];
    private readonly List<(string Id, string Side, int Number, double Day, string Kind)> events = [];
    private readonly List<MeasureDefinition> measures = [];
    private readonly List<Norm> norms = [];
    private readonly List<(string Id, string Visit, double Day)> visits = [];
    private HipGate? gate;

    internal MeasureFixture Participant(string id, double? lastContact = 700, double? age = 15, string? sex = "F")
    {
        roster.Add((id, lastContact, age, sex));
        return this;
    }

    internal MeasureFixture Exam(string id, string side, double? internalRotation, double? externalRotation, string? hip = "free", string visit = "baseline", string rater = "R1")
    {
        exams.Add((id, visit, side, rater, hip, internalRotation, externalRotation));
        return this;
    }

    internal MeasureFixture Event(string id, string side, double day, string kind)
    {
        events.Add((id, side, events.Count + 1, day, kind));
        return this;
    }

    internal MeasureFixture Measure(MeasureDefinition measure)
    {
        measures.Add(measure);
        return this;
    }

    internal MeasureFixture Visit(string id, string visit, double day)
    {
        visits.Add((id, visit, day));
        return this;
    }

    internal MeasureFixture Norm(Norm norm)
    {
        norms.Add(norm);
        return this;
    }

    internal MeasureFixture HipFirst()
    {
        gate = new HipGate("exams", "hip", ["free"], "the hip comes first");
        return this;
    }

    internal static ValueMeasure Baseline(string id, string column, bool gated = true, Reduction reduction = Reduction.Mean)
        => new(id, id, "degrees", null, null, Nowhere, "exams", column, "baseline", null, null, reduction, gated);

    /// <summary>A column of the roster.</summary>
    internal static ValueMeasure Person(string column)
        => new(column, column, column == "age" ? "years" : null, null, null, Nowhere, "roster", column, null, null, null, Reduction.First, false);

    internal static PairMeasure Pair(string id, PairOperation operation, string first, string second)
        => new(id, id, "degrees", null, null, Nowhere, operation, first, second);

    internal static SideDifferenceMeasure SideDifference(string id, string of) => new(id, id, "degrees", null, null, Nowhere, of);

    internal static SideMeanMeasure SideMean(string id, string of) => new(id, id, "degrees", null, null, Nowhere, of);

    internal static FollowUpMeasure FollowUp() => new("follow_up", "Follow-up", "days", null, null, Nowhere, "roster", "last_contact", Selection(0, "operation"));

    internal static EventSelection Selection(int mergeWithinDays, params string[] kinds) => new("events", "kind", [.. kinds], mergeWithinDays);

    internal static EventCountMeasure Count(int mergeWithinDays = 0)
        => new("count", "Dislocations", null, null, null, Nowhere, Selection(mergeWithinDays, "dislocation"), "follow_up");

    internal static FirstEventDayMeasure FirstDay()
        => new("first_day", "First dislocation", "days", null, null, Nowhere, Selection(0, "dislocation"), "follow_up");

    /// <summary>The protocol that was derived from; null before that.</summary>
    internal StudyProtocol? Protocol { get; private set; }

    internal DerivedMeasures Derive()
    {
        RecordTable[] tables = visits.Count == 0 ? [Roster(), Exams(), Events()] : [Roster(), Exams(), Events(), Visits()];
        StudyDescription study = new(
            "test", "Test", "", "", "", "1", new Words("participant", "participants"), new Words("knee", "knees"),
            [], [], [new VisitDefinition("baseline", "Baseline", 0, -7, 7), new VisitDefinition("month_6", "Month 6", 180, 150, 210)], 1, 1, []);
        Protocol = new StudyProtocol(
            study, [.. tables.Select(t => t.Definition)], [.. measures], new AnalysisPlan(new DateOnly(2026, 1, 1), gate, []), [], []) { Norms = [.. norms] };
        return MeasureDeriver.Derive(Protocol, new CheckedRecords([.. tables], [], [], []));
    }

    private static ColumnDefinition Column(string name, ColumnType type, ColumnRole role, params string[] codes)
        => new(name, name, type, role, null, null, null, [.. codes.Select(c => new CodeDefinition(c, c))], [], true, null, null, Nowhere);

    private static IdentifierColumn Text(string name, ColumnRole role, IEnumerable<string> values)
    {
        ImmutableArray<string> all = [.. values];
        return new IdentifierColumn(Column(name, ColumnType.Identifier, role), [.. all.Select(_ => (byte)0)], [], all);
    }

    private static CodeColumn Codes(string name, ColumnRole role, IEnumerable<string?> values, params string[] codes)
    {
        string?[] all = [.. values];
        return new CodeColumn(
            Column(name, ColumnType.Code, role, codes), [.. all.Select(v => (byte)(v is null ? 1 : 0))], ["not recorded"],
            [.. all.Select(v => v is null ? 0 : Array.IndexOf(codes, v))]);
    }

    private static NumberColumn Numbers(string name, ColumnRole role, IEnumerable<double?> values)
    {
        double?[] all = [.. values];
        return new NumberColumn(
            Column(name, ColumnType.Number, role), [.. all.Select(v => (byte)(v is null ? 1 : 0))], ["not recorded"], [.. all.Select(v => v ?? 0)]);
    }

    private static RecordTable Table(string name, bool isRoster, string[] key, params RecordColumn[] columns)
    {
        int rows = columns[0].Missing.Length;
        TableDefinition definition = new(name, name, name + ".csv", true, isRoster, [.. key], [.. columns.Select(c => c.Definition)], Nowhere);
        return new RecordTable(definition, rows, [.. columns], [.. Enumerable.Range(2, rows)]);
    }

    private RecordTable Roster() => Table(
        "roster", true, ["id"],
        Text("id", ColumnRole.Participant, roster.Select(r => r.Id)),
        Numbers("last_contact", ColumnRole.Value, roster.Select(r => r.LastContact)),
        Numbers("age", ColumnRole.Value, roster.Select(r => r.Age)),
        Codes("sex", ColumnRole.Value, roster.Select(r => r.Sex), "F", "M"));

    private RecordTable Exams() => Table(
        "exams", false, ["id", "visit", "side", "rater"],
        Text("id", ColumnRole.Participant, exams.Select(e => e.Id)),
        Codes("visit", ColumnRole.Visit, exams.Select(e => e.Visit), "baseline", "month_6"),
        Codes("side", ColumnRole.Side, exams.Select(e => e.Side), "L", "R"),
        Text("rater", ColumnRole.Rater, exams.Select(e => e.Rater)),
        Codes("hip", ColumnRole.Value, exams.Select(e => e.Hip), "free", "painful", "restricted"),
        Numbers("internal", ColumnRole.Value, exams.Select(e => e.Internal)),
        Numbers("external", ColumnRole.Value, exams.Select(e => e.External)));

    private RecordTable Visits() => Table(
        "visits", false, ["id", "visit"],
        Text("id", ColumnRole.Participant, visits.Select(v => v.Id)),
        Codes("visit", ColumnRole.Visit, visits.Select(v => v.Visit), "baseline", "month_6"),
        Numbers("day", ColumnRole.Day, visits.Select(v => (double?)v.Day)));

    private RecordTable Events() => Table(
        "events", false, ["id", "side", "number"],
        Text("id", ColumnRole.Participant, events.Select(e => e.Id)),
        Codes("side", ColumnRole.Side, events.Select(e => e.Side), "L", "R"),
        Numbers("number", ColumnRole.Sequence, events.Select(e => (double?)e.Number)),
        Numbers("day", ColumnRole.Day, events.Select(e => (double?)e.Day)),
        Codes("kind", ColumnRole.Value, events.Select(e => e.Kind), "dislocation", "operation"));
}
