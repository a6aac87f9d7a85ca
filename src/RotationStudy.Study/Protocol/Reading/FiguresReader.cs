using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads figures.yaml.</summary>
internal static class FiguresReader
{
    internal static ImmutableArray<FigureDefinition> Read(YamlSection top)
    {
        ImmutableArray<FigureDefinition>.Builder figures = ImmutableArray.CreateBuilder<FigureDefinition>();
        top.Need("figures", "List the figures, or write [] for none.");
        foreach (YamlSection section in top.Owners("figures", "figure"))
        {
            if (section.Word<FigureKind>("kind") is not { } kind)
                continue;
            figures.Add(new FigureDefinition(
                section.Text("id"), kind, section.Text("title"), section.Texts("questions"), section.OptionalText("exposure"), section.Place)
            {
                Uses = section.Words<FigureUse>("uses"),
                Measures = section.Texts("measures"),
                Marks = section.OptionalText("marks"),
                By = section.OptionalText("by"),
            });
            section.Close();
        }
        top.Close();
        return figures.ToImmutable();
    }
}
