using RotationStudy.Study.Checks;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Records;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Trace;

/// <summary>Hashes of checked records and of measures. Lines of the export are no part of them: the order of its rows decides nothing.</summary>
internal static class StageHashes
{
    internal static IEnumerable<StageHash> Of(CheckedRecords records)
        => records.Tables.Select(t => new StageHash(StageHash.Records, t.Definition.Name, t.Rows, Hash(t)));

    internal static IEnumerable<StageHash> Of(DerivedMeasures measures)
    {
        string keys = Hash(measures.Keys);
        return measures.Columns.Select(c => new StageHash(StageHash.Measures, c.Definition.Id, c.Index.Rows, Hash(c, keys)));
    }

    private static string Hash(RecordTable table)
    {
        using ContentHash hash = new();
        foreach (RecordColumn column in table.Columns)
        {
            hash.Add(column.Definition.Name).Add(column.Missing).Add(column.MissingReasons);
            _ = column switch
            {
                NumberColumn number => hash.Add(number.Values),
                CodeColumn code => hash.Add(code.Indices),
                IdentifierColumn identifier => hash.Add(identifier.Values),
                _ => throw new NotSupportedException($"A column of type {column.GetType().Name} has no hash."),
            };
        }
        return hash.Finish();
    }

    private static string Hash(StudyKeys keys)
    {
        using ContentHash hash = new();
        return hash.Add(keys.Participants).Add(keys.Sides).Add(keys.Occasions).Finish();
    }

    private static string Hash(MeasureColumn column, string keys)
    {
        using ContentHash hash = new();
        return hash.Add(keys).Add(column.Index.Keys).Add(column.Values).Add(column.Missing).Add(column.Reasons).Finish();
    }
}
