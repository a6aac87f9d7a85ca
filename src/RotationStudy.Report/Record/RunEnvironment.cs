using System.Collections.Immutable;
using System.Reflection;
using System.Runtime.InteropServices;

namespace RotationStudy.Report.Record;

/// <summary>In what environment a run was made, as far as it could change a byte: runtime, kind of system, processor, libraries.</summary>
/// <remarks>Not the machine, the user, the folder, the language, the time zone or the number of cores: these change nothing, and name people.</remarks>
internal static class RunEnvironment
{
    private static readonly string[] Libraries =
        ["CsvHelper", "MathNet.Numerics", "Microsoft.Data.Analysis", "Parquet", "ScottPlot", "SkiaSharp", "YamlDotNet"];

    internal static ImmutableArray<(string Key, string Value)> Facts() =>
    [
        ("runtime", RuntimeInformation.FrameworkDescription),
        ("system", OperatingSystem.IsWindows() ? "windows" : OperatingSystem.IsMacOS() ? "macos" : OperatingSystem.IsLinux() ? "linux" : "other"),
        ("processor", RuntimeInformation.ProcessArchitecture.ToString()),
        .. Libraries.Select(l => ("library " + l, VersionOf(l))),
    ];

    private static string VersionOf(string library)
    {
        try
        {
            Assembly assembly = Assembly.Load(library);
            string version = assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion ?? assembly.GetName().Version?.ToString() ?? "unknown";
            return version.Split('+')[0];
        }
        catch (Exception fault) when (fault is FileNotFoundException or FileLoadException or BadImageFormatException)
        {
            return "not found";
        }
    }
}
