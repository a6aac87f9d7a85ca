using RotationStudy.Study.Checks;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Flags for the clinical team, recovery, diary weeks and changes of scores, from the measures that the protocol declares for them.</summary>
public static class CourseBuilder
{
    private const string NoRow = "no row";

    /// <summary>Builds that part of the results.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="records">Checked records, for the names of sides.</param>
    /// <param name="measures">All measures.</param>
    public static CourseResults Build(StudyProtocol protocol, CheckedRecords records, DerivedMeasures measures)
    {
        MeasureColumn[] flags = [.. measures.Columns.Where(c => c.Definition is ClinicalFlagMeasure)];
        return new CourseResults(
            [.. flags.SelectMany(f => Raised(f, protocol, records, measures))],
            [.. flags.Select(Count)],
            [.. new[] { RecoveryTable.Build(measures, protocol), DiaryTable.Build(measures), ChangeTable.Build(measures, protocol) }.OfType<ResultTable>()]);
    }

    private static IEnumerable<ClinicalFlagLine> Raised(MeasureColumn flag, StudyProtocol protocol, CheckedRecords records, DerivedMeasures measures)
    {
        KeyWords words = new(protocol, records, measures);
        for (int row = 0; row < flag.Index.Rows; row++)
        {
            if (!flag.HasValue(row) || flag.Values[row] == 0)
                continue;
            RowKey key = flag.Index.Keys[row];
            yield return new ClinicalFlagLine(
                flag.Definition.Label, ((ClinicalFlagMeasure)flag.Definition).Advice,
                words.Participant(key), words.Site(key), words.Visit(key), words.Side(key));
        }
    }

    private static ClinicalFlagCount Count(MeasureColumn flag)
    {
        int raised = 0, lowered = 0, open = 0;
        for (int row = 0; row < flag.Index.Rows; row++)
        {
            if (flag.HasValue(row))
                _ = flag.Values[row] > 0 ? raised++ : lowered++;
            else if (!flag.Reason(row)!.Contains(NoRow, StringComparison.Ordinal))
                open++;
        }
        return new ClinicalFlagCount(flag.Definition.Label, flag.Definition.Source, raised, lowered, open);
    }
}
