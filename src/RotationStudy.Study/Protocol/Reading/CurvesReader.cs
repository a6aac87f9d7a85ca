using System.Collections.Immutable;
using RotationStudy.Statistics.Curves;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads curves over an arc, their summaries, and the errors of terms.</summary>
internal static class CurvesReader
{
    internal static CurveSummaryMeasure Summary(YamlSection s, MeasureHead c) => new(
        c.Id, c.Label, c.Unit, c.Definition, c.Source, c.Place,
        Curves(s), s.Word<CurveFeature>("feature") ?? CurveFeature.MeanHeight, s.Number("from"), s.Number("to"));

    /// <summary>The curves below the key of a question.</summary>
    internal static CurveColumn? Of(YamlSection question)
    {
        if (question.Section("curves") is not { } section)
            return null;
        CurveColumn curves = Curves(section);
        section.Close();
        return curves;
    }

    internal static ImmutableArray<MeasurementErrorPlan> Errors(YamlSection question)
    {
        ImmutableArray<MeasurementErrorPlan>.Builder plans = ImmutableArray.CreateBuilder<MeasurementErrorPlan>();
        foreach (YamlSection entry in question.Sections("measurement_error"))
        {
            plans.Add(new MeasurementErrorPlan(
                entry.Text("measure"), entry.OptionalText("from"), entry.Word("scope", ErrorScope.BetweenRaters),
                entry.Has("error_sd") ? entry.Number("error_sd") : null,
                entry.Has("degrees_of_freedom") ? entry.Number("degrees_of_freedom") : null,
                entry.OptionalText("source"), entry.Text("reason")));
            entry.Close();
        }
        return plans.ToImmutable();
    }

    private static CurveColumn Curves(YamlSection s) => new(s.Text("table"), s.Text("column"), s.Text("over"), s.OptionalText("trial"));
}
