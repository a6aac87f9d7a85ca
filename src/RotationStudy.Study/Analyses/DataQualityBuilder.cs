using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Findings as the report shows them: counted by rule, a few of each for reading, hips for the clinical team first.</summary>
public static class DataQualityBuilder
{
    private const int ExamplesPerRule = 3;

    /// <summary>Builds the data-quality part of the results.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="records">Checked records with their findings.</param>
    /// <param name="measures">All measures, for the hip-first list.</param>
    public static DataQuality Build(StudyProtocol protocol, CheckedRecords records, DerivedMeasures measures)
    {
        ImmutableArray<RuleLine> rules = [.. records.Findings
            .GroupBy(f => (f.Rule, f.Severity))
            .OrderBy(g => g.Key.Rule != "hip.first").ThenBy(g => g.Key.Severity).ThenBy(g => g.Key.Rule, StringComparer.Ordinal)
            .Select(g => new RuleLine(g.Key.Rule, InWords(g.Key.Severity), CheckCatalog.Explain(g.Key.Rule, protocol), g.Count()))];
        ImmutableArray<FindingLine> examples = [.. records.Findings
            .GroupBy(f => (f.Rule, f.Severity))
            .OrderBy(g => g.Key.Rule != "hip.first").ThenBy(g => g.Key.Severity).ThenBy(g => g.Key.Rule, StringComparer.Ordinal)
            .SelectMany(g => g.Take(ExamplesPerRule))
            .Select(f => new FindingLine(f.Rule, InWords(f.Severity), Where(f), f.Value ?? string.Empty, f.Message))];
        return new DataQuality(rules, HipFirst(protocol, records, measures), examples);
    }

    /// <summary>What a severity does, in words.</summary>
    /// <param name="severity">The severity.</param>
    public static string InWords(Severity severity) => severity switch
    {
        Severity.Stop => "stops the run",
        Severity.SetAside => "set aside",
        Severity.AskTheSite => "used; ask the site",
        _ => "note",
    };

    private static string Where(Finding finding)
        => finding.File + (finding.Line > 0 ? FormattableString.Invariant($", line {finding.Line}") : string.Empty) + (finding.Column is null ? string.Empty : $", {finding.Column}");

    private static ImmutableArray<HipFirstLine> HipFirst(StudyProtocol protocol, CheckedRecords records, DerivedMeasures measures)
    {
        if (measures.HipFirst.Length == 0)
            return [];
        StudyKeys keys = measures.Keys;
        MeasureColumn? site = SiteMeasure(protocol, measures);
        return [.. measures.HipFirst.Select(h => new HipFirstLine(
            keys.Participants[h.Key.Participant],
            site is not null && site.HasValue(h.Key.Participant) ? site.Codes[(int)site.Values[h.Key.Participant]].Meaning : string.Empty,
            h.Key.Occasion < 0 ? string.Empty : protocol.Study.Visits.FirstOrDefault(v => v.Id == keys.Occasions[h.Key.Occasion])?.Label ?? keys.Occasions[h.Key.Occasion],
            h.Key.Side < 0 ? string.Empty : SideMeaning(records, keys.Sides[h.Key.Side]),
            h.What))];
    }

    private static MeasureColumn? SiteMeasure(StudyProtocol protocol, DerivedMeasures measures)
        => measures.Columns.FirstOrDefault(c => c.Definition is ValueMeasure v
            && c.Index.Level == RowLevel.Participant
            && protocol.Table(v.Table).Column(v.Column)?.Role == ColumnRole.Site);

    private static string SideMeaning(CheckedRecords records, string side)
        => records.Tables.Select(t => t.Definition.Column(ColumnRole.Side)).First(c => c is not null)!
            .Codes.First(c => c.Code == side).Meaning;
}
