using System.Runtime.InteropServices;
using System.Security.Cryptography;
using System.Text;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;

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
        if (chosen.Question.Kind == QuestionKind.RecurrentEvents)
            Days(hash, input);
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    /// <summary>Two counts may be equal and their days not.</summary>
    private static void Days(IncrementalHash hash, AnalysisInput input)
    {
        MeasureColumn outcome = input.Measures[input.Question.Outcome!];
        foreach (RowKey key in input.Table.Keys)
            hash.AppendData(MemoryMarshal.AsBytes(input.Measures.Histories[outcome.Definition.Id][outcome.Index.Find(key)]!.Days.AsSpan()));
    }

    private static void Text(IncrementalHash hash, string text) => hash.AppendData(Encoding.UTF8.GetBytes(text + "\n"));
}
