using System.Text.Json;
using Microsoft.CodeAnalysis.CSharp.Scripting;
using Microsoft.CodeAnalysis.Scripting;

namespace RotationStudy.Tests.Notebooks;

/// <summary>The cells of every notebook run as they stand, one after another.</summary>
public sealed class NotebookTests
{
    [Theory]
    [InlineData("own-question.ipynb")]
    public async Task Every_cell_runs(string name)
    {
        string folder = Path.Combine(Repository.Root, "notebooks");
        using JsonDocument notebook = JsonDocument.Parse(await File.ReadAllTextAsync(Path.Combine(folder, name)));
        // Packages and assemblies are those of the tests; paths of the notebook start at its folder.
        string[] cells = [.. notebook.RootElement.GetProperty("cells").EnumerateArray()
            .Where(c => c.GetProperty("cell_type").GetString() == "code")
            .Select(c => string.Concat(c.GetProperty("source").EnumerateArray().Select(l => l.GetString())))
            .Select(c => string.Join('\n', c.Split('\n').Where(l => !l.StartsWith("#r", StringComparison.Ordinal))).Replace("\"../", $"\"{Repository.Root.Replace('\\', '/')}/", StringComparison.Ordinal))];
        ScriptOptions options = ScriptOptions.Default.WithReferences(
            typeof(Microsoft.Data.Analysis.DataFrame).Assembly, typeof(ScottPlot.Plot).Assembly, typeof(Study.StudyPipeline).Assembly, typeof(Statistics.DesignMatrix).Assembly,
            typeof(Enumerable).Assembly, typeof(Console).Assembly);
        ScriptState<object>? state = null;
        foreach (string cell in cells)
            state = state is null ? await CSharpScript.RunAsync(cell, options) : await state.ContinueWithAsync(cell, options);
        Assert.True(cells.Length > 3);
        Assert.NotNull(state!.GetVariable("fit"));
    }
}
