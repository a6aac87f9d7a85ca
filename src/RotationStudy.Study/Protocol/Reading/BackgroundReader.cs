using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads what a measure says beside its definition, and the list of columns whose values depend on a method.</summary>
internal static class BackgroundReader
{
    internal static MeasureBackground Read(YamlSection s) => new(
        s.OptionalText("position"), s.OptionalText("sign"), s.OptionalText("technique"), Reliability(s),
        s.OptionalText("limits"), s.OptionalText("norm"), s.OptionalText("pools_methods_because"));

    internal static ImmutableArray<MethodDistinction> Methods(YamlSection top)
    {
        ImmutableArray<MethodDistinction>.Builder methods = ImmutableArray.CreateBuilder<MethodDistinction>();
        foreach (YamlSection s in top.Owners("methods", "method distinction"))
        {
            methods.Add(new MethodDistinction(s.Text("table"), s.Text("column"), s.Text("method_column"), s.Text("reason"), s.Place));
            s.Close();
        }
        return methods.ToImmutable();
    }

    private static ImmutableArray<ReliabilityFact> Reliability(YamlSection section)
    {
        ImmutableArray<ReliabilityFact>.Builder facts = ImmutableArray.CreateBuilder<ReliabilityFact>();
        foreach (YamlSection s in section.Sections("reliability"))
        {
            facts.Add(new ReliabilityFact(s.Text("says"), s.Text("source"), s.Word<Evidence>("evidence") ?? Evidence.Recalled));
            s.Close();
        }
        return facts.ToImmutable();
    }
}
