namespace RotationStudy.Study.Sharing;

/// <summary>Whether the files of a round belong together.</summary>
internal static class SharesOfARound
{
    internal static void Require(IReadOnlyList<(string Name, SiteShare Share)> shares, string protocolHash, SiteRequest? previous, string? previousHash)
    {
        if (shares.Count == 0)
            throw new SharingRefusal("No share was given.", "Give the file of each site.");
        SiteShare first = shares[0].Share;
        Dictionary<string, string> sites = new(StringComparer.Ordinal);
        foreach ((string name, SiteShare share) in shares)
        {
            if (share.ProtocolSha256 != protocolHash)
                throw new SharingRefusal($"{name} was made with another protocol than this one.", "All sites need the same protocol folder, to the byte.");
            if (share.Question != first.Question)
                throw new SharingRefusal($"{name} is about {share.Question}, {shares[0].Name} about {first.Question}.", "Gather one question at a time.");
            if (!sites.TryAdd(share.Site, name))
                throw new SharingRefusal($"{name} and {sites[share.Site]} are both of site {share.Site}.", "Give one file per site.");
            if (share.AnswersSha256 != previousHash || share.Round != (previous?.Round ?? 1))
                throw new SharingRefusal($"{name} answers another request{(previousHash is null ? ": it is of a later round" : string.Empty)}.", previousHash is null ? "Give the request with --after." : "Give the files that were made with this request.");
            RequireWhole(name, share, previous, first);
        }
        if (previous is not null)
            RequireSameSites(shares, previous);
    }

    private static void RequireWhole(string name, SiteShare share, SiteRequest? previous, SiteShare first)
    {
        bool closing = previous?.Step == SharingStep.Closing;
        int p = share.Columns.Length;
        bool whole = closing
            ? share.Robust is { } r && r.Covariance.Count == p * p && r.Means.Count == p && r.Variances.Count == p && r.Pairs.Count == p * p * p
            : share.Sums is { } s && s.Columns.Count == p && s.Score.Count == p && s.Estimate.Count == p && s.Information.Count == p * p;
        if (!whole || !share.Columns.Select(c => c.Name).SequenceEqual(first.Columns.Select(c => c.Name)))
            throw new SharingRefusal($"{name} does not hold the sums that were asked for.", "Ask its sender to make it again.");
    }

    private static void RequireSameSites(IReadOnlyList<(string Name, SiteShare Share)> shares, SiteRequest previous)
    {
        foreach (SharingSite site in previous.Sites)
        {
            (string? name, SiteShare? share) = shares.FirstOrDefault(s => s.Share.Site == site.Site);
            if (share is null)
                throw new SharingRefusal($"The file of site {site.Site} is missing.", "A site that has joined must answer every round; else begin again without it.");
            if (share.Persons != site.Persons || (share.Sums?.Rows ?? share.Robust!.Rows) != site.Rows)
                throw new SharingRefusal($"{name} rests on other rows than in the first round.", "The difference would show who was added or taken out. Begin again with the new data cut.");
        }
        if (shares.Count != previous.Sites.Length)
            throw new SharingRefusal("There are files of sites that did not take part in the first round.", "Begin again with all sites.");
    }
}
