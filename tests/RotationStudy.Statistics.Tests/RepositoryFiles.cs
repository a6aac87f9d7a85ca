namespace RotationStudy.Statistics.Tests;

/// <summary>Where the checkout lies, found upwards from the test binaries.</summary>
internal static class RepositoryFiles
{
    internal static string Root { get; } = FindRoot();

    /// <summary>A file under tests/RotationStudy.Tests/ReferenceData, such as "Linear/longley/data.csv".</summary>
    internal static string ReferenceData(string relative)
        => Path.Combine(Root, "tests", "RotationStudy.Tests", "ReferenceData", relative.Replace('/', Path.DirectorySeparatorChar));

    private static string FindRoot()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "RotationStudy.sln")))
                return folder.FullName;
        }
        throw new InvalidOperationException("RotationStudy.sln was not found above the test binaries.");
    }
}
