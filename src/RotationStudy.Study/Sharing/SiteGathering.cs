using System.Collections.Immutable;
using System.Globalization;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Sharing;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Sharing;

/// <summary>Joins the files of a round: the next request, and the answer as far as it is known.</summary>
public static class SiteGathering
{
    /// <summary>Joins the shares of all sites.</summary>
    /// <param name="protocol">The protocol.</param>
    /// <param name="protocolHash">Hash over its files.</param>
    /// <param name="shares">One per site, with the name of its file.</param>
    /// <param name="previous">The request that they answer; null after the first round.</param>
    /// <param name="previousHash">Hash of its file; null after the first round.</param>
    /// <param name="programVersion">Version of the program.</param>
    /// <exception cref="SharingRefusal">The files do not belong together, or the rounds do not end.</exception>
    /// <exception cref="StatisticsError">The sums allow no fit.</exception>
    public static SiteRequest Gather(
        StudyProtocol protocol, string protocolHash, IReadOnlyList<(string Name, SiteShare Share)> shares,
        SiteRequest? previous, string? previousHash, string programVersion)
    {
        SharesOfARound.Require(shares, protocolHash, previous, previousHash);
        QuestionDefinition question = SharedQuestion.Find(protocol, shares[0].Share.Question);
        SiteShare[] all = [.. shares.Select(s => s.Share).OrderBy(s => s.Site, StringComparer.Ordinal)];
        SiteRequest now = previous ?? First(all, protocolHash, programVersion);
        return now.Step == SharingStep.Closing
            ? Close(question, protocol, now, RobustSums.Combine([.. all.Select(s => s.Robust!)]))
            : Advance(question, protocol, now, RegressionSums.Combine([.. all.Select(s => s.Sums!)]));
    }

    private static SiteRequest First(SiteShare[] all, string protocolHash, string programVersion) => new(
        SharingJson.RequestFormat, SharingJson.Version, programVersion, protocolHash, all[0].Question, SharingStep.Sums, 1,
        all[0].Columns, [.. all[0].Sums!.Estimate], [], all.Sum(s => s.Persons), all.Sum(s => s.Sums!.Rows),
        [.. all.Select(s => new SharingSite(s.Site, s.Persons, s.Sums!.Rows))], [], null, []);

    private static SiteRequest Advance(QuestionDefinition question, StudyProtocol protocol, SiteRequest now, RegressionSums pooled)
    {
        if (now.Round == 1)
        {
            (ImmutableArray<int> kept, ImmutableArray<string> notes) = SpeakingColumns.Of(now.Columns, pooled);
            pooled = pooled.Select(kept);
            now = now with { Columns = [.. kept.Select(k => now.Columns[k])], Notes = notes };
        }
        bool linear = pooled.Family == SharedFamily.Linear;
        if (!linear && Fell(now.History, pooled.LogLikelihood))
            return Halved(now, pooled);
        SharedStep step = SharedRegression.Step(pooled);
        now = now with { Round = now.Round + 1, History = now.History.Add(new SharingRound(now.Round, pooled.LogLikelihood, step.Decrement, [.. pooled.Estimate])) };
        if (linear)
        {
            SharedAnswer? early = pooled.Products is null ? null : SharedAnswers.Of(question, protocol, now, SharedRegression.LeastSquares(pooled), asPlanned: false);
            return now with { Step = SharingStep.Closing, Estimate = [.. step.Next], Bread = [.. step.Bread.Values], Answer = early };
        }
        if (step.Decrement <= SharedRegression.Tolerance)
            return now with { Step = SharingStep.Closing, Estimate = [.. pooled.Estimate], Bread = [.. step.Bread.Values] };
        if (now.Round > SiteSharing.MostRounds)
            throw DoesNotEnd(now.Round - 1, step.Decrement);
        return now with { Estimate = [.. step.Next] };
    }

    private static SiteRequest Close(QuestionDefinition question, StudyProtocol protocol, SiteRequest now, RobustSums pooled)
    {
        SymmetricMatrix bread = new([.. now.Columns.Select(c => c.Name)], now.Bread.AsSpan());
        Coefficients coefficients = SharedRegression.Robust(now.Estimate, bread, pooled);
        return now with { Step = SharingStep.Done, Answer = SharedAnswers.Of(question, protocol, now, coefficients, asPlanned: true) };
    }

    private static bool Fell(ImmutableArray<SharingRound> history, double logLikelihood)
        => history.Length > 0 && logLikelihood < history[^1].LogLikelihood - (SharedRegression.RoundingShare * Math.Abs(history[^1].LogLikelihood));

    // The last step went too far: half of it is asked for, from the round before.
    private static SiteRequest Halved(SiteRequest now, RegressionSums pooled)
    {
        if (now.Round >= SiteSharing.MostRounds)
            throw DoesNotEnd(now.Round, now.History[^1].Decrement);
        return now with { Round = now.Round + 1, Estimate = [.. now.History[^1].Estimate.Zip(pooled.Estimate, (a, b) => 0.5 * (a + b))] };
    }

    private static SharingRefusal DoesNotEnd(int rounds, double decrement) => new(
        string.Create(CultureInfo.InvariantCulture, $"After {rounds} rounds the fit has not converged: the squared step is still {decrement:E1} squared standard errors."),
        "The outcome may be separated by a column, or a category may have no event; use a smaller adjustment set.");
}
