using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses.Agreement;

/// <summary>Agreement in a sentence and in tables.</summary>
internal static class AgreementTables
{
    private const string Sep = " to ";

    internal static string Sentence(AgreementResult result, ReadingSet readings)
    {
        List<string> parts = [];
        foreach (IGrouping<string, ReliabilityLine> scope in result.Reliability.Where(l => l.Scope == "within rater" || l.Group == "all").GroupBy(l => l.Scope))
        {
            string lowest = Icc(scope.Min(l => l.Agreement)), highest = Icc(scope.Max(l => l.Agreement));
            parts.Add($"{scope.Key}, the intraclass correlation is {lowest}{(lowest == highest ? string.Empty : Sep + highest)}"
                + $" and a change of one person is beyond error from {Degrees(scope.Min(l => l.DetectableChange), result.Unit)}{Sep}{Degrees(scope.Max(l => l.DetectableChange), result.Unit)} on");
        }
        LimitsLine[] reference = [.. result.Limits.Where(l => l.Slope is not null && l.Group == "all")];
        if (reference.Length > 0)
        {
            parts.Add($"against {Sentences.LowerFirst(reference[0].Second)}, 95% of differences lie between {Number(reference.Min(l => l.Lower))} and {Degrees(reference.Max(l => l.Upper), result.Unit)}"
                + (reference.All(l => l.SlopeUpper < 0) ? ", and the reading falls behind as the angle grows" : string.Empty));
        }
        return $"{readings.Label}: {string.Join("; ", parts)}.";
    }

    internal static ImmutableArray<ResultTable> Of(AgreementResult result)
    {
        List<ResultTable> tables = [];
        if (!result.Reliability.IsEmpty)
            tables.Add(ReliabilityTable(result));
        if (!result.Limits.IsEmpty)
            tables.Add(LimitsTable(result));
        return [.. tables];
    }

    private static ResultTable ReliabilityTable(AgreementResult result) => new(
        "reliability", "Correlation and error of single readings",
        ["Comparison", "Group or rater", "Side", "Subjects", "Ratings of each", "ICC, agreement", "ICC(3,1), consistency", WithUnit("Error", result.Unit), WithUnit("Smallest detectable change", result.Unit)],
        [.. result.Reliability.Select(l => new TableRow(
            [
                new(l.Scope, null), new(l.Group, null), new(l.Side, null), Count(l.Subjects), Count(l.Ratings),
                new($"{Icc(l.Agreement)} ({Icc(l.AgreementLower)}{Sep}{Icc(l.AgreementUpper)})", l.Agreement),
                l.Consistency is { } consistency ? new($"{Icc(consistency)} ({Icc(l.ConsistencyLower!.Value)}{Sep}{Icc(l.ConsistencyUpper!.Value)})", consistency) : new("not told apart", null),
                new($"{Number(l.Error)} ({Number(l.ErrorLower)}{Sep}{Number(l.ErrorUpper)})", l.Error),
                new(Number(l.DetectableChange), l.DetectableChange),
            ],
            0))],
        [
            "Single readings. Agreement: systematic differences count; ICC(2,1) between raters, ICC(1,1) between the sessions of one rater and where raters took turns. Consistency: they do not count. In parentheses the 95% interval.",
            "A high correlation in people who differ much can hide a large error: read both. Error is the standard deviation of readings of one subject, systematic differences included.",
            "Each side by itself, since two sides of a person are no two subjects.",
            .. Incomplete(result),
        ]);

    private static ResultTable LimitsTable(AgreementResult result)
    {
        bool slopes = result.Limits.Any(l => l.Slope is not null);
        bool groups = result.Limits.Any(l => l.Group != "all");
        return new ResultTable(
            "limits", "Limits of agreement",
            ["First", "Second", .. groups ? ["Group"] : Array.Empty<string>(), "Participants", "Pairs", WithUnit("Mean difference", result.Unit), WithUnit("Lower limit", result.Unit), WithUnit("Upper limit", result.Unit), .. slopes ? ["Slope on the mean"] : Array.Empty<string>()],
            [.. result.Limits.Select(l => new TableRow(
                [
                    new(l.First, null), new(l.Second, null), .. groups ? [new TableCell(l.Group, null)] : Array.Empty<TableCell>(), Count(l.Participants), Count(l.Pairs),
                    Interval(l.Bias, l.BiasLower, l.BiasUpper), Interval(l.Lower, l.LowerLower, l.LowerUpper), Interval(l.Upper, l.UpperLower, l.UpperUpper),
                    .. slopes ? [l.Slope is { } slope ? Interval(slope, l.SlopeLower!.Value, l.SlopeUpper!.Value) : new TableCell(string.Empty, null)] : Array.Empty<TableCell>(),
                ],
                0))],
            [
                "First minus second. 95% of differences between single readings lie within the limits; both sides of a person are pairs of one subject. In parentheses the 95% interval.",
                .. slopes ? ["Slope: change of the difference per unit of the mean. Two readings of unequal precision have a slope even without a bias."] : Array.Empty<string>(),
            ]);
    }

    private static IEnumerable<string> Incomplete(AgreementResult result)
    {
        int most = result.Reliability.Max(l => l.Incomplete);
        if (most > 0)
            yield return string.Create(CultureInfo.InvariantCulture, $"Subjects without all ratings are left out of a line: {most} at most.");
    }

    private static TableCell Interval(double value, double lower, double upper) => new($"{Number(value)} ({Number(lower)}{Sep}{Number(upper)})", value);

    private static TableCell Count(int n) => new(n.ToString(CultureInfo.InvariantCulture), n);

    private static string WithUnit(string heading, string? unit) => unit is null ? heading : $"{heading}, {unit}";

    private static string Degrees(double value, string? unit) => unit is null ? Number(value) : $"{Number(value)} {unit}";

    private static string Icc(double value) => value.ToString("0.00", CultureInfo.InvariantCulture).Replace('-', '\u2212');

    private static string Number(double value) => Sentences.Number(value);
}
