using System.Runtime.InteropServices;
using System.Security.Cryptography;
using System.Text;

namespace RotationStudy.Study.Analyses.Choices;

/// <summary>A key that two combinations share when their rows, columns and model are the same to the bit.</summary>
internal static class FitKey
{
    internal static string Of(AnalysisInput input, ChosenQuestion chosen)
    {
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        Text(hash, FormattableString.Invariant($"{chosen.Question.Kind} {chosen.Counts} {chosen.Question.Rows} {chosen.Question.TimeUnitDays:R} {input.Blocked}"));
        int exposure = input.Terms.Terms.ToList().FindIndex(t => t.Measure == chosen.Exposure && t.Role == "exposure");
        Text(hash, FormattableString.Invariant($"{exposure} of {input.Terms.Terms.Length}"));
        hash.AppendData(MemoryMarshal.AsBytes(input.Table.Participants.AsSpan()));
        int[] sides = [.. input.Table.Keys.Select(k => k.Side)];
        hash.AppendData(MemoryMarshal.AsBytes(sides.AsSpan()));
        foreach (ModelTerm term in input.Terms.Terms)
            hash.AppendData(MemoryMarshal.AsBytes(term.Values.AsSpan()));
        foreach (string? field in new[] { chosen.Question.Outcome, chosen.Question.FollowUp, chosen.Question.Entry, chosen.Question.Exit, chosen.Question.Event })
        {
            Text(hash, field is null ? "-" : "+");
            if (field is not null)
                hash.AppendData(MemoryMarshal.AsBytes(input.Values(field).AsSpan()));
        }
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    private static void Text(IncrementalHash hash, string text) => hash.AppendData(Encoding.UTF8.GetBytes(text + "\n"));
}
