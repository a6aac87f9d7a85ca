using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;
using RotationStudy.Study.Results;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Analyses;

/// <summary>The map of missing values by site and the patterns in which they go missing, for the measures that the plan needs.</summary>
internal static class MissingFactsBuilder
{
    private const int MostPatterns = 12;

    internal static MissingFacts Build(StudyProtocol protocol, CheckedRecords records, DerivedMeasures measures)
    {
        string[] needed = [.. protocol.Plan.Questions.SelectMany(q => AnalysisRunner.NeededMeasures(q).Concat(q.Characteristics)).Distinct(StringComparer.Ordinal)];
        (ImmutableArray<string> sites, int[] siteOf) = Sites(protocol, records, measures);
        return new MissingFacts(
            sites,
            [.. needed.Select(id => Line(measures[id], sites.Length, siteOf))],
            [.. protocol.Plan.Questions.Select(q => Patterns(q, measures, protocol.Study.SmallestPrintedCount))]);
    }

    /// <summary>Sites by label and the site of each participant, -1 where the roster does not say.</summary>
    private static (ImmutableArray<string> Sites, int[] SiteOf) Sites(StudyProtocol protocol, CheckedRecords records, DerivedMeasures measures)
    {
        int[] siteOf = new int[measures.Keys.Participants.Length];
        Array.Fill(siteOf, -1);
        RecordTable? roster = records.Tables.FirstOrDefault(t => t.Definition.IsRoster);
        if (roster?.Definition.Column(ColumnRole.Site) is not { } column || roster[column.Name] is not CodeColumn codes
            || roster.Definition.Column(ColumnRole.Participant) is not { } id || roster[id.Name] is not IdentifierColumn ids)
            return ([], siteOf);
        for (int row = 0; row < roster.Rows; row++)
        {
            int participant = measures.Keys.Participants.BinarySearch(ids.Values[row], StringComparer.Ordinal);
            if (participant >= 0 && codes.HasValue(row))
                siteOf[participant] = codes.Indices[row];
        }
        return ([.. column.Codes.Select(c => protocol.Study.Sites.FirstOrDefault(s => s.Id == c.Code)?.Label ?? c.Meaning)], siteOf);
    }

    private static MissingLine Line(MeasureColumn measure, int sites, int[] siteOf)
    {
        int[] rows = new int[sites], missing = new int[sites];
        SortedDictionary<string, (int Rows, HashSet<int> People)> reasons = new(StringComparer.Ordinal);
        for (int row = 0; row < measure.Index.Rows; row++)
        {
            int participant = measure.Index.Keys[row].Participant;
            string? reason = measure.Reason(row);
            if (siteOf[participant] is >= 0 and int site)
            {
                rows[site]++;
                missing[site] += reason is null ? 0 : 1;
            }
            if (reason is null)
                continue;
            (int count, HashSet<int> people) = reasons.GetValueOrDefault(reason, (0, []));
            people.Add(participant);
            reasons[reason] = (count + 1, people);
        }
        return new MissingLine(
            measure.Definition.Id, measure.Definition.Label, measure.Index.Rows, reasons.Values.Sum(r => r.Rows),
            [.. rows.Select((n, s) => n == 0 ? null : (double?)(missing[s] / (double)n))],
            [.. reasons.OrderByDescending(r => r.Value.Rows).Select(r => new ReasonCount(r.Key, r.Value.Rows, r.Value.People.Count))]);
    }

    private static MissingPatterns Patterns(QuestionDefinition question, DerivedMeasures measures, int smallest)
    {
        MeasureColumn[] columns = [.. AnalysisRunner.NeededMeasures(question).Concat(question.Characteristics).Distinct(StringComparer.Ordinal).Select(id => measures[id])];
        PopulationFilter population = new(question.Keep, measures);
        Dictionary<string, (int Rows, HashSet<int> People)> found = new(StringComparer.Ordinal);
        foreach (RowKey key in measures.Levels[question.Rows].Keys.Where(population.Holds))
        {
            string pattern = new([.. columns.Select(c => c.Index.Find(key) is >= 0 and int row && c.HasValue(row) ? '.' : 'x')]);
            (int rows, HashSet<int> people) = found.GetValueOrDefault(pattern, (0, []));
            people.Add(key.Participant);
            found[pattern] = (rows + 1, people);
        }
        var ordered = found.OrderByDescending(f => f.Value.Rows).ThenBy(f => f.Key, StringComparer.Ordinal).ToArray();
        int printed = Printed([.. ordered.Select(f => f.Value.People.Count)], smallest);
        int[] shown = [.. Enumerable.Range(0, columns.Length).Where(c => ordered.Any(f => f.Key[c] == 'x'))];
        return new MissingPatterns(
            question.Id,
            [.. shown.Select(c => columns[c].Definition.Label)],
            [.. ordered.Take(printed).Select(f => new MissingPattern([.. shown.Select(c => f.Key[c] == 'x')], f.Value.Rows, f.Value.People.Count))],
            ordered.Skip(printed).Sum(f => f.Value.Rows));
    }

    /// <summary>How many patterns are printed one by one: common ones, and never so many that what is left is a small count.</summary>
    private static int Printed(int[] people, int smallest)
    {
        int printed = Math.Min(MostPatterns, people.TakeWhile(n => n >= smallest).Count());
        int rest = people.Skip(printed).Sum();
        return printed > 0 && rest > 0 && rest < smallest ? printed - 1 : printed;
    }
}
