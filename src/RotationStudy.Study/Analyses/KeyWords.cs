using RotationStudy.Study.Checks;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Analyses;

/// <summary>The parts of a row's key in the words of the study, for lists that people read.</summary>
internal sealed class KeyWords(StudyProtocol protocol, CheckedRecords records, DerivedMeasures measures)
{
    private readonly MeasureColumn? site = measures.Columns.FirstOrDefault(c => c.Definition is ValueMeasure v
        && c.Index.Level == RowLevel.Participant
        && protocol.Table(v.Table).Column(v.Column)?.Role == ColumnRole.Site);

    internal string Participant(RowKey key) => measures.Keys.Participants[key.Participant];

    internal string Site(RowKey key)
        => site is not null && site.HasValue(key.Participant) ? site.Codes[(int)site.Values[key.Participant]].Meaning : string.Empty;

    internal string Visit(RowKey key)
        => key.Occasion < 0 ? string.Empty
            : protocol.Study.Visits.FirstOrDefault(v => v.Id == measures.Keys.Occasions[key.Occasion])?.Label ?? measures.Keys.Occasions[key.Occasion];

    internal string Side(RowKey key)
        => key.Side < 0 ? string.Empty
            : records.Tables.Select(t => t.Definition.Column(ColumnRole.Side)).First(c => c is not null)!
                .Codes.First(c => c.Code == measures.Keys.Sides[key.Side]).Meaning;
}
