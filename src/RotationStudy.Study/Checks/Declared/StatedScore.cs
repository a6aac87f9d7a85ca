using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks.Declared;

/// <summary>A stated score against the number of components that are fulfilled, where all are known.</summary>
internal static class StatedScore
{
    internal static void Apply(StatedScoreCheck check, TableDraft table, RowReport report)
    {
        DraftColumn stated = table.Named(check.Column);
        bool?[][] fulfilled = [.. check.Components.Select(c => OfTexts(c, table.Named(c.Column)))];
        DraftColumn[] columns = [.. check.Components.Select(c => table.Named(c.Column))];
        foreach (int row in table.Order)
        {
            if (!stated[row].HasValue)
                continue;
            int score = 0;
            bool whole = true;
            for (int i = 0; i < columns.Length && whole; i++)
            {
                bool? one = fulfilled[i][columns[i].TextOf(row)];
                whole = one is not null;
                score += one == true ? 1 : 0;
            }
            if (whole && stated[row].Number != score)
                report.Add(row, stated, $"{score}", $"'{check.Column}' says {stated.Shown(row)} and its components come to {score}.");
        }
    }

    private static bool?[] OfTexts(ScoreComponent component, DraftColumn column)
    {
        bool?[] known = new bool?[column.Texts];
        for (int text = 0; text < known.Length; text++)
        {
            ref readonly Cells.Verdict verdict = ref column.VerdictOfText(text);
            if (!verdict.HasValue)
                continue;
            known[text] = component.Test switch
            {
                ComponentTest.Is => column.Definition.Codes[verdict.Code].Code == component.Code,
                ComponentTest.AtLeast => verdict.Number >= component.Threshold,
                _ => verdict.Number > component.Threshold,
            };
        }
        return known;
    }
}
