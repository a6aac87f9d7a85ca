namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads sites.yaml.</summary>
internal static class SitesReader
{
    internal const string File = "sites.yaml";

    internal static SitePlan Read(YamlSection top)
    {
        SitePlan plan = new(top.Text("measure"), top.WholeNumber("smallest_group"), [.. top.Sections("questions").Select(ReadQuestion)]);
        top.Need("questions", "List the questions that are also answered by site.");
        top.Close();
        return plan;
    }

    private static SiteQuestion ReadQuestion(YamlSection section)
    {
        SiteQuestion question = new(section.Text("question"), section.Text("reason"));
        section.Close();
        return question;
    }
}
