using System.Collections.Immutable;
using RotationStudy.Statistics.Imputation;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Analyses;

/// <summary>The table that is imputed: a row per person, a column per measure of the person and per measure and side.</summary>
/// <remarks>What defines a row's part in the analysis (an event and its time, a count and its follow-up) is never imputed: rows without it stay out.</remarks>
internal sealed class ImputationFrame
{
    private readonly AnalysisInput input;
    private readonly AnalysisTable rows;
    private readonly int[] persons;
    private readonly Dictionary<int, int> positionOf;
    private readonly string[] measures;
    private readonly int sides;

    private ImputationFrame(AnalysisInput input, AnalysisTable rows)
    {
        this.input = input;
        this.rows = rows;
        persons = [.. rows.Participants.Distinct()];
        positionOf = persons.Select((p, i) => (p, i)).ToDictionary(t => t.p, t => t.i);
        measures = [.. AnalysisRunner.NeededMeasures(input.Question)];
        sides = Math.Max(1, rows.StudyKeys.Sides.Length);
    }

    internal int Rows => rows.Rows;

    internal int Persons => persons.Length;

    internal int IncompleteRows => rows.Keys.Count(k => measures.Any(m => Value(input.Measures[m], k) is null));

    internal static ImputationFrame Of(AnalysisInput input)
    {
        QuestionDefinition question = input.Question;
        string?[] fixedParts = question.Kind == QuestionKind.Mean ? [] : [question.Outcome, question.FollowUp, question.Entry, question.Exit, question.Event];
        return new ImputationFrame(input, TableBuilder.Build(input.Measures, question.Rows, [.. fixedParts.OfType<string>()], question.Keep));
    }

    /// <summary>The columns, with the imputed values of one measure shifted.</summary>
    internal List<ImputedColumn> Columns(string shifted, double shift)
    {
        List<ImputedColumn> columns = [];
        foreach (string id in measures)
        {
            MeasureColumn measure = input.Measures[id];
            int copies = measure.Index.Level.HasSides() ? sides : 1;
            for (int side = 0; side < copies; side++)
            {
                double?[] values = [.. persons.Select(p => Value(measure, new RowKey(p, side, -1)))];
                // A column that never varies, or is never seen, predicts nothing.
                if (values.OfType<double>().Distinct().Count() < 2 && values.All(v => v is not null))
                    continue;
                columns.Add(new ImputedColumn
                {
                    Name = Name(measure, side),
                    Values = Scaled(id, values),
                    Model = !measure.IsCoded ? ImputationModel.PredictiveMeanMatching : measure.Codes.Length == 2 ? ImputationModel.Logistic : ImputationModel.Ordinal,
                    Delta = id == shifted ? shift : 0,
                });
            }
        }
        if (input.Question.Kind == QuestionKind.TimeToFirst)
            ReplaceTimes(columns);
        return columns;
    }

    /// <summary>The analysis of one completed copy.</summary>
    internal AnalysisInput Completed(ImputedTables tables, int copy)
    {
        List<TableColumn> columns = [];
        foreach (string id in measures)
        {
            MeasureColumn measure = input.Measures[id];
            IReadOnlyList<double>[] imputed = [.. Enumerable.Range(0, measure.Index.Level.HasSides() ? sides : 1)
                .Select(s => tables.Names.Contains(Name(measure, s)) ? tables.Column(copy, Name(measure, s)) : [])];
            columns.Add(new TableColumn(measure, [.. rows.Keys.Select(k => Value(measure, k) ?? imputed[imputed.Length == 1 ? 0 : k.Side][positionOf[k.Participant]])]));
        }
        AnalysisTable table = new(rows.Level, rows.Keys, rows.StudyKeys, [.. columns], [], rows.Population);
        return input with { Table = table, Terms = TermBuilder.Build(input.Question, table) };
    }

    private static double? Value(MeasureColumn measure, RowKey key)
    {
        int row = measure.Index.Find(key);
        return row >= 0 && measure.HasValue(row) ? measure.Values[row] : null;
    }

    private string Name(MeasureColumn measure, int side)
        => measure.Index.Level.HasSides() ? $"{measure.Definition.Id}, {rows.StudyKeys.Sides[side]}" : measure.Definition.Id;

    /// <summary>Follow-up enters the imputation model by its logarithm, as it does the analysis.</summary>
    private double?[] Scaled(string id, double?[] values)
        => id == input.Question.FollowUp ? [.. values.Select(v => v is > 0 ? Math.Log(v.Value) : (double?)null)] : values;

    /// <summary>A time enters the imputation model as the cumulative hazard at it (White and Royston 2009, Stat Med 28:1982-1998; recalled, not re-read).</summary>
    private void ReplaceTimes(List<ImputedColumn> columns)
    {
        MeasureColumn exit = input.Measures[input.Question.Exit!];
        MeasureColumn happened = input.Measures[input.Question.Event!];
        (double Time, bool Event)[] all = [.. rows.Keys.Select(k => (Value(exit, k)!.Value, Value(happened, k) > 0)).OrderBy(t => t.Item1)];
        double[] hazard = new double[all.Length];
        double sum = 0;
        for (int i = 0; i < all.Length; i++)
        {
            sum += all[i].Event ? 1.0 / (all.Length - i) : 0;
            hazard[i] = sum;
        }
        double[] times = [.. all.Select(a => a.Time)];
        for (int c = 0; c < columns.Count; c++)
        {
            if (columns[c].Name == exit.Definition.Id || columns[c].Name.StartsWith(exit.Definition.Id + ",", StringComparison.Ordinal))
                columns[c] = columns[c] with { Values = [.. columns[c].Values.Select(v => v is { } t ? HazardAt(times, hazard, t) : (double?)null)] };
        }
    }

    private static double HazardAt(double[] times, double[] hazard, double time)
    {
        int last = Array.FindLastIndex(times, t => t <= time);
        return last < 0 ? 0 : hazard[last];
    }
}
