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
        Dictionary<string, int> found = records.Findings.GroupBy(f => f.Rule).ToDictionary(g => g.Key, g => g.Count(), StringComparer.Ordinal);
        return new DataQuality(rules, HipFirst(protocol, records, measures), examples)
        {
            Checks =
            [
                .. CheckListing.Of(protocol).Select(c => new CheckFacts(
                    c.Id, c.Kind, c.Table, c.Does, c.Says, c.Source, found.GetValueOrDefault(c.Id))),
            ],
        };
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
        KeyWords words = new(protocol, records, measures);
        return [.. measures.HipFirst.Select(h => new HipFirstLine(
            words.Participant(h.Key), words.Site(h.Key), words.Visit(h.Key), words.Side(h.Key), h.What))];
    }
}
