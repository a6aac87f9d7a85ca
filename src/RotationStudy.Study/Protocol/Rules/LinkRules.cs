using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>Rules of the checks that look from the rows of one table to those of another.</summary>
internal static class LinkRules
{
    internal static void Check(RuleContext context, CheckDefinition check, TableDefinition table)
    {
        if (check is PartnerCheck partner)
        {
            CheckRules.Condition(context, check.Place, "when", table, partner.When);
            TableDefinition? other = context.Table(check.Place, "other", partner.Other);
            CheckRules.Condition(context, check.Place, "other_when", other, partner.OtherWhen);
            Match(context, check.Place, table, other, partner.Match);
            if (partner.OtherSide && !partner.Match.Contains(ColumnRole.Side))
                context.Fault(check.Place, "other_side", "Rows are not matched by side.", "Add side to 'match'.");
        }
        else if (check is EventOrderCheck order)
        {
            CheckRules.Condition(context, check.Place, "when", table, order.When);
            TableDefinition? earlier = context.Table(check.Place, "earlier", order.Earlier);
            CheckRules.Condition(context, check.Place, "earlier_when", earlier, order.EarlierWhen);
            Match(context, check.Place, table, earlier, order.Match);
            CheckRules.Role(context, check.Place, table, ColumnRole.Day);
            if (earlier is not null && earlier.Column(ColumnRole.Day) is null)
                context.Fault(check.Place, "earlier", $"Rows of table '{earlier.Name}' have no day.", "Name a table with days.");
        }
    }

    private static void Match(RuleContext context, Place place, TableDefinition table, TableDefinition? other, ImmutableArray<ColumnRole> match)
    {
        if (!match.Contains(ColumnRole.Participant))
            context.Fault(place, "match", "Rows of different participants do not belong together.", "Begin with participant.");
        for (int i = 0; i < match.Length; i++)
        {
            if (match[i] is not (ColumnRole.Participant or ColumnRole.Side or ColumnRole.Visit))
                context.Fault(place, $"match[{i}]", "Rows belong together by participant, side and visit.", "Use these.");
            else if (table.Column(match[i]) is null || (other is not null && other.Column(match[i]) is null))
                context.Fault(place, $"match[{i}]", $"One of the two tables has no {match[i].ToString().ToLowerInvariant()}.", "Leave it out.");
        }
    }
}
