using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>The parts of the results that are copied from the protocol and the records, not estimated.</summary>
public static class StudyFactsBuilder
{
    /// <summary>Title, words and cautions.</summary>
    /// <param name="protocol">The protocol.</param>
    public static StudyFacts Facts(StudyProtocol protocol)
    {
        StudyDescription study = protocol.Study;
        return new StudyFacts(
            study.Id, study.Title, study.Purpose, study.Design, study.Source,
            study.ParticipantWords.One, study.ParticipantWords.Many, study.UnitWords?.One, study.UnitWords?.Many,
            study.Eligibility, [.. study.Sites.Select(s => s.Label)],
            protocol.Plan.Dated.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture),
            study.SmallestPrintedCount, study.Cautions);
    }

    /// <summary>What went in, with hashes.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="records">Checked records.</param>
    /// <param name="programVersion">Version of the program.</param>
    public static Provenance Provenance(StudyProtocol protocol, CheckedRecords records, string programVersion)
        => new(
            programVersion, protocol.Study.Version, FileHash.OfAll(protocol.Files), FileHash.OfAll(records.Files), protocol.Study.Seed,
            [.. protocol.Files.Select(f => new FileFacts(f.Name, f.Sha256, f.Bytes))],
            [.. records.Files.Select(f => new FileFacts(f.Name, f.Sha256, f.Bytes))]);

    /// <summary>What became of every row.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="records">Checked records.</param>
    public static ImmutableArray<AccountLine> Accounts(StudyProtocol protocol, CheckedRecords records)
        => [.. records.Accounts.Select(a => new AccountLine(
            a.File, records[a.Table].Definition.Label, a.Read, a.Used,
            [.. a.SetAside.Select(s => new ReasonCount(CheckCatalog.Reason(s.Rule, protocol), s.Rows, 0))]))];

    /// <summary>Definitions of the measures and how many values each has.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="measures">All measures.</param>
    public static ImmutableArray<MeasureFacts> Measures(StudyProtocol protocol, DerivedMeasures measures)
        => [.. measures.Columns.Select(c =>
        {
            int present = c.Missing.Count(m => m == 0);
            return new MeasureFacts(
                c.Definition.Id, c.Definition.Label, c.Definition.Unit,
                MeasureWords.Describe(c.Definition, protocol) + (c.Note is null ? string.Empty : " " + c.Note),
                c.Definition.Source, present, c.Index.Rows - present)
            {
                Explanation = MeasureExplainer.Explain(protocol, c.Definition),
            };
        })];

    /// <summary>Figures wanted.</summary>
    /// <param name="protocol">The protocol.</param>
    public static ImmutableArray<FigureRequest> Figures(StudyProtocol protocol)
        => [.. protocol.Figures.Select(f => new FigureRequest(f.Id, KindName(f.Kind), f.Title, f.Questions, f.Exposure)
        {
            Uses = [.. f.Uses.Select(UseName)],
        })];

    private static string UseName(FigureUse use) => use switch
    {
        FigureUse.JournalSingle => "journal_single",
        FigureUse.JournalDouble => "journal_double",
        FigureUse.SlideLight => "slide_light",
        FigureUse.SlideDark => "slide_dark",
        FigureUse.Poster => "poster",
        _ => throw new ArgumentOutOfRangeException(nameof(use)),
    };

    private static string KindName(FigureKind kind) => kind switch
    {
        FigureKind.ParticipantFlow => "participant_flow",
        FigureKind.FitScatter => "fit_scatter",
        FigureKind.EventFreeCurves => "event_free_curves",
        FigureKind.EstimateForest => "estimate_forest",
        FigureKind.ChoiceChart => "choice_chart",
        FigureKind.IncidenceCurves => "incidence_curves",
        FigureKind.MeanEvents => "mean_events",
        FigureKind.SubgroupForest => "subgroup_forest",
        FigureKind.ExposureCurve => "exposure_curve",
        FigureKind.GrowthLines => "growth_lines",
        FigureKind.PairedPoints => "paired_points",
        FigureKind.SideSlopes => "side_slopes",
        FigureKind.AgreementLimits => "agreement_limits",
        FigureKind.ReliabilityForest => "reliability_forest",
        FigureKind.MissingMap => "missing_map",
        FigureKind.DigitHeaping => "digit_heaping",
        FigureKind.ScoreDistributions => "score_distributions",
        FigureKind.MilestoneCurves => "milestone_curves",
        FigureKind.DiaryStrips => "diary_strips",
        FigureKind.ScatterPanels => "scatter_panels",
        FigureKind.RiskCalibration => "risk_calibration",
        FigureKind.RiskDiscrimination => "risk_discrimination",
        FigureKind.RiskDecision => "risk_decision",
        FigureKind.TrackingCurves => "tracking_curves",
        _ => throw new ArgumentOutOfRangeException(nameof(kind)),
    };

    /// <summary>One hash over the names and hashes of a protocol's files.</summary>
    /// <param name="protocol">The protocol.</param>
    public static string ProtocolHash(StudyProtocol protocol) => FileHash.OfAll(protocol.Files);
}
