using System.Collections.Immutable;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Pictures;

/// <summary>What figures of measures draw: one part per figure that the protocol declares.</summary>
internal static class FigureValuesBuilder
{
    internal static FigureValues Build(StudyProtocol protocol, CheckedRecords records, DerivedMeasures measures)
    {
        FigureDefinition[] Of(params FigureKind[] kinds) => [.. protocol.Figures.Where(f => kinds.Contains(f.Kind))];
        return new FigureValues(
            [.. Of(FigureKind.PairedPoints, FigureKind.ScatterPanels).Select(f => MeasurePairs.Build(f, measures))],
            [.. Of(FigureKind.SideSlopes).Select(f => SideSlopes.Build(f, protocol, measures))],
            [.. Of(FigureKind.DigitHeaping).SelectMany(f => LastDigits.Build(f, protocol, records))],
            [.. Of(FigureKind.ScoreDistributions).Select(f => ScoreDistributions.Build(f, measures))],
            [.. Of(FigureKind.DiaryStrips).Select(f => DiaryStripsBuilder.Build(f, measures))],
            [.. Of(FigureKind.MilestoneCurves).Select(f => MilestonesReached.Build(f, protocol, measures))]);
    }
}
