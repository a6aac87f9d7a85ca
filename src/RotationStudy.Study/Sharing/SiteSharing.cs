using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Sharing;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Sharing;

/// <summary>What a site hands out of its own rows: counts and sums of one round, or a refusal.</summary>
/// <remarks>
/// A site refuses when a group of fewer persons than sites.yaml states stands alone in the sums (<see cref="SmallGroups"/>), when a
/// round holds more numbers than half the cells it was made from, and after <see cref="MostRounds"/> rounds.
/// </remarks>
public static class SiteSharing
{
    /// <summary>More rounds than any regular fit needs.</summary>
    public const int MostRounds = 30;

    /// <summary>Makes the file of a round.</summary>
    /// <param name="protocol">The protocol; its sites.yaml says how small a group may be.</param>
    /// <param name="protocolHash">Hash over its files.</param>
    /// <param name="measures">Measures of this site's records.</param>
    /// <param name="question">Question of the plan.</param>
    /// <param name="site">Code of the site, where the records hold several; null takes the only one.</param>
    /// <param name="request">The request to answer; null in the first round.</param>
    /// <param name="requestHash">Hash of the request's file; null in the first round.</param>
    /// <param name="programVersion">Version of the program.</param>
    /// <exception cref="SharingRefusal">The site does not hand this out.</exception>
    public static SiteShare Share(
        StudyProtocol protocol, string protocolHash, DerivedMeasures measures, string question, string? site,
        SiteRequest? request, string? requestHash, string programVersion)
    {
        SitePlan plan = protocol.Sites ?? throw new SharingRefusal("The protocol has no sites.yaml, so nothing says how few persons may stand alone.", "Add sites.yaml with 'measure', 'smallest_group' and 'questions'.");
        QuestionDefinition asked = SharedQuestion.Find(protocol, question);
        if (request is not null)
            RequireFits(request, protocolHash, question);
        string code = SiteOf(measures[plan.Measure], site);
        SharedQuestion rows = SharedQuestion.Of(measures, asked, new RowFilter(plan.Measure, [code]));
        ImmutableArray<SharedColumn> columns = request?.Columns ?? rows.Columns;
        (SourceRows source, DesignMatrix design) = rows.RowsOf(columns);
        RequireLargeGroups(design, asked.Kind == QuestionKind.Mean ? [] : rows.Outcome, rows.Clusters, plan.SmallestGroup);
        (RegressionSums? sums, RobustSums? robust) = request?.Step == SharingStep.Closing
            ? (null, Closing(source, request, columns))
            : (Sums(source, request, columns.Length, asked.Kind == QuestionKind.Mean), (RobustSums?)null);
        RequireFew(sums?.CountNumbers() ?? robust!.CountNumbers(), source.Cells);
        return new SiteShare(
            SharingJson.ShareFormat, SharingJson.Version, programVersion, protocolHash, question, code, request?.Round ?? 1, requestHash,
            columns, rows.Persons, sums, robust);
    }

    private static RegressionSums Sums(SourceRows source, SiteRequest? request, int columns, bool linear)
    {
        RegressionSums plain = source.At(request is null ? new double[columns] : [.. request.Estimate]);
        bool room = 2 * (plain.CountNumbers() + source.NumbersOfProducts) <= source.Cells;
        return linear && room ? source.At([.. plain.Estimate], withProducts: true) : plain;
    }

    private static RobustSums Closing(SourceRows source, SiteRequest request, ImmutableArray<SharedColumn> columns)
        => source.Robust(request.Estimate, new SymmetricMatrix([.. columns.Select(c => c.Name)], request.Bread.AsSpan()), request.Persons);

    private static void RequireFits(SiteRequest request, string protocolHash, string question)
    {
        if (request.ProtocolSha256 != protocolHash)
            throw new SharingRefusal("The request was made with another protocol than this one.", "All sites need the same protocol folder, to the byte.");
        if (request.Question != question)
            throw new SharingRefusal($"The request is about {request.Question}, not {question}.", $"Give --question {request.Question}, or the request of {question}.");
        if (request.Step == SharingStep.Done)
            throw new SharingRefusal("The request asks for nothing more: the answer is in it.", "Nothing needs to be sent.");
        if (request.Round > MostRounds)
            throw new SharingRefusal(string.Create(CultureInfo.InvariantCulture, $"This is round {request.Round}, more than any regular fit needs."), "Ask its sender why it does not end; the outcome may be separated.");
    }

    private static string SiteOf(MeasureColumn sites, string? wanted)
    {
        string[] there = [.. sites.Codes.Select((c, i) => (c.Code, i)).Where(c => Enumerable.Range(0, sites.Index.Rows).Any(r => sites.HasValue(r) && (int)sites.Values[r] == c.i)).Select(c => c.Code)];
        if (wanted is null)
        {
            return there.Length == 1 ? there[0] : throw new SharingRefusal(
                $"These records hold {there.Length} sites{(there.Length == 0 ? string.Empty : $": {string.Join(", ", there)}")}.", "Name one with --site.");
        }
        return there.Contains(wanted) ? wanted : throw new SharingRefusal($"These records hold no participant of site '{wanted}'.", $"They hold {string.Join(", ", there)}.");
    }

    private static void RequireLargeGroups(DesignMatrix design, double[] outcome, Clusters clusters, int smallest)
    {
        if (SmallGroups.Find(design, outcome, clusters, smallest) is { } group)
        {
            throw new SharingRefusal(
                string.Create(CultureInfo.InvariantCulture, $"Refused: fewer than {smallest} persons stand alone in the sums ({group.What})."),
                "Join categories in the plan, leave the column out, or agree on pooling rows; nothing was written.");
        }
    }

    private static void RequireFew(int numbers, int cells)
    {
        if (2 * numbers > cells)
        {
            throw new SharingRefusal(
                string.Create(CultureInfo.InvariantCulture, $"Refused: {numbers} numbers would be handed out that were made from {cells} cells, more than half as many."),
                "Use fewer columns, or share when more persons are there; nothing was written.");
        }
    }
}
