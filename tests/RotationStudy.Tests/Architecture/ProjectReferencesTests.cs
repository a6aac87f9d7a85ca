using System.Xml.Linq;

namespace RotationStudy.Tests.Architecture;

/// <summary>The edges between projects, read from the project files: no more and no fewer than the design says.</summary>
public class ProjectReferencesTests
{
    private static readonly Dictionary<string, string[]> Allowed = new()
    {
        ["RotationStudy.Statistics"] = [],
        ["RotationStudy.Study"] = ["RotationStudy.Statistics"],
        ["RotationStudy.Simulation"] = ["RotationStudy.Study"],
        ["RotationStudy.Report"] = ["RotationStudy.Study"],
        ["RotationStudy.Cli"] = ["RotationStudy.Report", "RotationStudy.Simulation", "RotationStudy.Statistics", "RotationStudy.Study"],
    };

    [Fact]
    public void Every_project_under_src_refers_to_exactly_the_projects_it_may_know()
    {
        string src = Path.Combine(Repository.Root, "src");
        string[] projects = Directory.GetFiles(src, "*.csproj", SearchOption.AllDirectories);
        Assert.Equal(Allowed.Keys.Order(), projects.Select(p => Path.GetFileNameWithoutExtension(p)).Order());
        foreach (string project in projects)
        {
            string name = Path.GetFileNameWithoutExtension(project);
            IEnumerable<string> found = XDocument.Load(project).Descendants("ProjectReference")
                .Select(e => Path.GetFileNameWithoutExtension((string)e.Attribute("Include")!.Value.Replace('\\', '/')))
                .Order();
            Assert.True(
                Allowed[name].SequenceEqual(found),
                $"{Path.GetRelativePath(Repository.Root, project)} refers to [{string.Join(", ", found)}]; allowed: [{string.Join(", ", Allowed[name])}]. Move the code to where the knowledge may live.");
        }
    }

    [Fact]
    public void No_project_file_fixes_a_package_version_of_its_own()
    {
        IEnumerable<string> offenders = Directory.GetFiles(Repository.Root, "*.csproj", SearchOption.AllDirectories)
            .Where(p => XDocument.Load(p).Descendants("PackageReference").Any(e => e.Attribute("Version") is not null));
        Assert.Empty(offenders);
    }
}
