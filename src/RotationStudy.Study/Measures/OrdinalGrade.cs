using RotationStudy.Study.Protocol;
using RotationStudy.Study.Records;

namespace RotationStudy.Study.Measures;

/// <summary>An ordered grade from a column of codes; a code that is no grade of the scale is missing, with its meaning as the reason.</summary>
internal static class OrdinalGrade
{
    internal static MeasureColumn Derive(GradeMeasure measure, Derivation derivation)
    {
        MeasureColumn of = RecordedValue.Derive(measure.Value, derivation);
        CodeColumn column = (CodeColumn)derivation.Records[measure.Value.Table][measure.Value.Column];
        MeasureBuilder result = new(of.Index, "no row");
        for (int row = 0; row < of.Index.Rows; row++)
        {
            if (of.Reason(row) is { } reason)
            {
                result.SetMissing(row, reason);
                continue;
            }
            CodeDefinition code = column.Definition.Codes[(int)of.Values[row]];
            int grade = measure.Grades.ToList().FindIndex(g => g.Codes.Contains(code.Code));
            if (grade >= 0)
                result.Set(row, grade);
            else
                result.SetMissing(row, $"{code.Meaning}: no grade of the scale");
        }
        return result.Build(measure, [.. measure.Grades.Select(g => new CodeDefinition(g.Label, g.Label))]);
    }
}
