using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Characteristics by group: mean and SD, or counts and per cent, missing values shown, standardized differences, no p values.</summary>
/// <remarks>Differences at baseline are described, not tested: a p value would answer a question nobody asks.</remarks>
internal static class BaselineAnalysis
{
    internal static QuestionResult Answer(AnalysisInput input)
    {
        List<BaselineGroup> groups = Groups(input);
        bool compared = groups.Count == 3;
        List<TableRow> rows = [];
        foreach (string id in input.Question.Characteristics)
        {
            BaselineColumn column = BaselineColumn.Of(input, input.Measures[id]);
            rows.AddRange(column.IsCoded ? CodedRows(input, column, groups, compared) : [NumberRow(column, groups, compared)]);
        }
        ImmutableArray<string> headings = ["Characteristic", .. groups.Select(g => g.Heading), .. compared ? ["Standardised difference"] : Array.Empty<string>()];
        ResultTable table = new("baseline", input.Question.Title, headings, [.. rows], Footnotes(input, compared));
        string groupWords = groups.Count > 1 ? $", by {Sentences.LowerFirst(input.Measures[input.Question.GroupBy!].Definition.Label)}" : string.Empty;
        return input.Result($"Characteristics of {input.RowsInWords()}{groupWords}.", string.Empty) with
        {
            Tables = [table],
            Citations = compared ? [Sources.YangDalton] : [],
        };
    }

    private static List<BaselineGroup> Groups(AnalysisInput input)
    {
        int[] all = [.. Enumerable.Range(0, input.Table.Rows)];
        List<BaselineGroup> groups = [new BaselineGroup($"All ({CountWords(input, all)})", all)];
        if (input.Question.GroupBy is not { } by)
            return groups;
        MeasureColumn measure = input.Measures[by];
        ImmutableArray<double> values = input.Values(by);
        // A yes/no event measure is a number 0 or 1; codes bring their own words.
        (double Value, string Label)[] codes = measure.IsCoded
            ? [.. measure.Codes.Select((c, i) => ((double)i, $"{measure.Definition.Label}: {c.Meaning}"))]
            : [(0, $"{measure.Definition.Label}: no"), (1, $"{measure.Definition.Label}: yes")];
        foreach ((double value, string label) in codes)
        {
            int[] members = [.. all.Where(r => values[r] == value)];
            if (members.Length > 0)
                groups.Add(new BaselineGroup($"{label} ({CountWords(input, members)})", members));
        }
        // A group of very few people would show their values, and its size would follow from the sum: then nobody is compared.
        return groups.Any(g => People(input, g.Rows) < input.Protocol.Study.SmallestPrintedCount) ? groups[..1] : groups;
    }

    /// <summary>Units and participants are both counted: a number of knees is never printed as a number of people.</summary>
    private static string CountWords(AnalysisInput input, int[] rows)
    {
        int people = People(input, rows);
        string participants = input.Protocol.Study.ParticipantWords.Count(people);
        return input.Table.Level.HasSides() ? $"{input.Protocol.Study.UnitWords!.Count(rows.Length)} of {participants}" : participants;
    }

    private static int People(AnalysisInput input, int[] rows) => rows.Select(r => input.Table.Participants[r]).Distinct().Count();

    private static TableRow NumberRow(BaselineColumn column, List<BaselineGroup> groups, bool compared)
    {
        List<TableCell> cells = [new TableCell(column.Label + ", mean (SD)", null)];
        foreach (BaselineGroup group in groups)
        {
            double[] values = column.Present(group.Rows);
            cells.Add(values.Length == 0
                ? new TableCell("none recorded", null)
                : new TableCell($"{MeanAndSpread(values)}{MissingNote(group.Rows.Length - values.Length)}", values.Average()));
        }
        if (compared)
            cells.Add(DifferenceCell(BaselineDifference.OfNumbers(column.Present(groups[1].Rows), column.Present(groups[2].Rows))));
        return new TableRow([.. cells], 0);
    }

    private static IEnumerable<TableRow> CodedRows(AnalysisInput input, BaselineColumn column, List<BaselineGroup> groups, bool compared)
    {
        bool[,] hidden = Hidden(input, column, groups);
        List<TableCell> head = [new TableCell(column.Label + ", n (%)", null)];
        for (int g = 0; g < groups.Count; g++)
        {
            int missing = groups[g].Rows.Length - column.Present(groups[g].Rows).Length;
            head.Add(hidden[column.Codes.Length, g] ? new TableCell("hidden", null) : new TableCell(missing == 0 ? string.Empty : $"{missing} missing", null));
        }
        if (compared)
            head.Add(DifferenceCell(BaselineDifference.OfCodes(column.Present(groups[1].Rows), column.Present(groups[2].Rows), column.Codes.Length)));
        yield return new TableRow([.. head], 0);
        for (int code = 0; code < column.Codes.Length; code++)
        {
            List<TableCell> cells = [new TableCell(column.Codes[code], null)];
            for (int g = 0; g < groups.Count; g++)
            {
                double[] values = column.Present(groups[g].Rows);
                int count = values.Count(v => v == code);
                string share = values.Length == 0 ? "–" : (100.0 * count / values.Length).ToString("0", CultureInfo.InvariantCulture);
                cells.Add(hidden[code, g] ? new TableCell("hidden", null) : new TableCell($"{count} ({share})", count));
            }
            if (compared)
                cells.Add(new TableCell(string.Empty, null));
            yield return new TableRow([.. cells], 1);
        }
    }

    /// <summary>Which cells of a coded characteristic are hidden: codes, then missing, by group; people are counted, not rows.</summary>
    private static bool[,] Hidden(AnalysisInput input, BaselineColumn column, List<BaselineGroup> groups)
    {
        // The rule wants the sum of the groups last; here it comes first, so columns are turned round and back.
        int codes = column.Codes.Length;
        int[,] people = new int[codes + 1, groups.Count];
        for (int g = 0; g < groups.Count; g++)
        {
            foreach (IGrouping<int, int> cell in groups[g].Rows.GroupBy(r => column.CodeOf(r)))
                people[cell.Key < 0 ? codes : cell.Key, groups.Count - 1 - g] = cell.Select(r => input.Table.Participants[r]).Distinct().Count();
        }
        bool[,] turned = SmallCells.Hide(people, input.Protocol.Study.SmallestPrintedCount);
        bool[,] hidden = new bool[codes + 1, groups.Count];
        for (int r = 0; r <= codes; r++)
        {
            for (int g = 0; g < groups.Count; g++)
                hidden[r, g] = turned[r, groups.Count - 1 - g];
        }
        return hidden;
    }

    private static string MeanAndSpread(double[] values)
    {
        double mean = values.Average();
        double spread = values.Length < 2 ? 0 : Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / (values.Length - 1));
        return $"{Sentences.Number(mean)} ({Sentences.Number(spread)})";
    }

    private static string MissingNote(int missing) => missing == 0 ? string.Empty : $"; {missing} missing";

    private static TableCell DifferenceCell(double? difference)
        => difference is { } d ? new TableCell(d.ToString("0.00", CultureInfo.InvariantCulture).Replace('-', '\u2212'), d) : new TableCell("–", null);

    private static ImmutableArray<string> Footnotes(AnalysisInput input, bool compared)
    {
        List<string> notes = [];
        if (input.Table.Level.HasSides())
            notes.Add($"Rows are {input.Protocol.Study.UnitWords!.Many}; what belongs to the person counts once for each of the person's {input.Protocol.Study.UnitWords.Many}.");
        if (input.Protocol.Study.SmallestPrintedCount > 1)
            notes.Add($"Hidden: fewer than {input.Protocol.Study.SmallestPrintedCount} people, or a count from which such a number could be worked out.");
        if (compared)
            notes.Add("Standardised difference: difference of means (second group minus first) over the pooled SD, or its distance for codes; no p values, because groups are described and not tested here.");
        return [.. notes];
    }

    private sealed record BaselineGroup(string Heading, int[] Rows);
}
