using System.Text;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Rows;

/// <summary>Asks about participants whose identifiers are easily taken for each other.</summary>
internal static class LookAlike
{
    /// <summary>An identifier without what the eye overlooks: case, signs between letters, leading zeros, O for 0, I and l for 1.</summary>
    internal static string Folded(string identifier)
    {
        StringBuilder folded = new(identifier.Length);
        bool inNumber = false;
        foreach (char c in identifier)
        {
            char letter = char.ToUpperInvariant(c) switch
            {
                'O' => '0',
                'I' or 'L' => '1',
                var other => other,
            };
            if (!char.IsAsciiLetterOrDigit(letter))
            {
                inNumber = false;
                continue;
            }
            if (letter == '0' && !inNumber)
                continue;
            inNumber = char.IsAsciiDigit(letter);
            folded.Append(letter);
        }
        return folded.ToString();
    }

    internal static void Apply(TableDraft roster, FindingList findings)
    {
        DraftColumn participant = roster.Column(ColumnRole.Participant)!;
        foreach (var alike in roster.Order.GroupBy(row => Folded(participant[row].Identifier)).Where(g => g.Count() > 1))
        {
            string all = Listing.Few([.. alike.Select(row => $"'{participant[row].Identifier}'")]);
            foreach (int row in alike)
            {
                findings.Add(
                    CheckCatalog.IdentifierLookAlike, roster, row, participant, "identifiers that cannot be mistaken",
                    $"The identifiers {all} look alike. Are they different participants?");
            }
        }
    }
}
