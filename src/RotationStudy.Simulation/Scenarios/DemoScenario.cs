using System.Text;

namespace RotationStudy.Simulation.Scenarios;

/// <summary>The scenario of the demo cohort, carried within the program: the same file as synthetic-data/demo-scenario.yaml.</summary>
public static class DemoScenario
{
    /// <summary>Seed of the committed demo cohort.</summary>
    public const int Seed = 20260;

    private const string FileName = "demo-scenario.yaml";

    /// <summary>Text of the file.</summary>
    public static string Text() => Text(FileName);

    /// <summary>Text of a file carried within the program.</summary>
    internal static string Text(string file)
    {
        using Stream stream = typeof(DemoScenario).Assembly.GetManifestResourceStream(file)
            ?? throw new InvalidOperationException($"{file} is not part of this build.");
        using StreamReader reader = new(stream, Encoding.UTF8);
        return reader.ReadToEnd();
    }

    /// <summary>The scenario.</summary>
    public static Scenario Read() => ScenarioReader.Parse(Text(), FileName);
}
