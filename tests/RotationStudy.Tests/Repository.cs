namespace RotationStudy.Tests;

/// <summary>Where the checkout lies, found upwards from the test binaries.</summary>
internal static class Repository
{
    internal static string Root { get; } = FindRoot();

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
