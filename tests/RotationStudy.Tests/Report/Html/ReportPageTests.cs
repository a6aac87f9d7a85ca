using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;
using RotationStudy.Report.Figures;
using RotationStudy.Report.Html;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Report.Html;

public class ReportPageTests
{
    private static readonly string Page = Write(SampleResults.Study());

    [Fact]
    public void Two_renders_are_the_same_to_the_byte() => Assert.Equal(Page, Write(SampleResults.Study()));

    [Fact]
    public void Hostile_text_never_appears_raw()
    {
        string page = Write(SampleResults.WithHostileText());

        Assert.DoesNotContain("<script>alert", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<img src=x", page, StringComparison.Ordinal);
        Assert.DoesNotContain("\u202E", page, StringComparison.Ordinal);
        Assert.DoesNotContain("\"quoted\"", page, StringComparison.Ordinal);
        Assert.Contains("&lt;script&gt;alert(&#39;x&#39;)&lt;/script&gt; &quot;quoted&quot; &amp; [U+202E]gnp.exe", page, StringComparison.Ordinal);
        Assert.Equal(1, Regex.Count(page, "<script"));
    }

    [Fact]
    public void The_policy_allows_this_style_and_this_script_and_nothing_else()
    {
        string policy = Regex.Match(page(), "Content-Security-Policy\" content=\"([^\"]+)\"").Groups[1].Value.Replace("&#39;", "'", StringComparison.Ordinal);
        Assert.StartsWith("default-src 'none';", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
        Assert.Contains(HashOf("style"), policy, StringComparison.Ordinal);
        Assert.Contains(HashOf("script"), policy, StringComparison.Ordinal);
        Assert.DoesNotMatch(" (style|on[a-z]+)=\"", page());

        static string page() => Page;
    }

    [Fact]
    public void Nothing_is_loaded_from_anywhere()
    {
        Assert.DoesNotContain("http:", Page, StringComparison.Ordinal);
        Assert.DoesNotContain("https:", Page, StringComparison.Ordinal);
        Assert.DoesNotContain("@import", Page, StringComparison.Ordinal);
        Assert.DoesNotMatch("url\\((?!#)", Page);
        Assert.All(Regex.Matches(Page, " (?:src|href)=\"([^\"]+)\""), m => Assert.Matches("^(#|figures/|data:image/png)", m.Groups[1].Value));
    }

    [Fact]
    public void Every_table_has_a_caption_and_scoped_headers()
    {
        string[] tables = [.. Regex.Matches(Page, "<table.*?</table>", RegexOptions.Singleline).Select(m => m.Value)];
        Assert.True(tables.Length > 15);
        Assert.All(tables, t => Assert.Equal(1, Regex.Count(t, "<caption>[^<]+</caption>")));
        Assert.All(tables, t => Assert.Contains("<th scope=\"row\"", t, StringComparison.Ordinal));
        Assert.DoesNotMatch("<th(?![^>]*scope=)[ >]", Page);
    }

    [Fact]
    public void Headings_descend_by_one_and_ids_are_used_once()
    {
        int[] levels = [.. Regex.Matches(Page, "<h([1-6])").Select(m => m.Groups[1].Value[0] - '0')];
        Assert.Single(levels, 1);
        Assert.All(levels.Zip(levels.Skip(1)), pair => Assert.True(pair.Second <= pair.First + 1));

        string[] ids = [.. Regex.Matches(Page, "\\bid=\"([^\"]+)\"").Select(m => m.Groups[1].Value)];
        Assert.Equal(ids.Length, ids.Distinct().Count());
        Assert.All(Regex.Matches(Page, "href=\"#([^\"]+)\""), m => Assert.Contains(m.Groups[1].Value, ids));
        Assert.All(Regex.Matches(Page, "aria-labelledby=\"([^\"]+)\"").SelectMany(m => m.Groups[1].Value.Split(' ')), id => Assert.Contains(id, ids));
    }

    [Fact]
    public void Answers_accounts_and_cautions_are_there()
    {
        Assert.Contains("3.90 to ∞", Page, StringComparison.Ordinal);
        Assert.Contains("none of 498 knees had a derotation operation", Page, StringComparison.Ordinal);
        Assert.Contains("2 examined sides have</strong>", Page.Replace("first: </strong>2 examined sides have", "2 examined sides have</strong>", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Contains("key.duplicate: 3; key.missing: 1", Page, StringComparison.Ordinal);
        Assert.Equal(2, Regex.Count(Page, "Research use only; no number here is advice on one patient."));
        Assert.Contains(new string('a', 64), Page, StringComparison.Ordinal);
    }

    [Fact]
    public void Sums_that_do_not_agree_are_said_aloud()
    {
        StudyResults sample = SampleResults.Study();
        string page = Write(sample with { Accounts = [sample.Accounts[0] with { Used = 299 }] });
        Assert.Contains("<td>NO</td>", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<td>NO</td>", Page, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Hard_cases_make_a_whole_page(string name)
        => Assert.EndsWith("</html>\n", Write(HardCases.All[name]), StringComparison.Ordinal);

    public static TheoryData<string> Names() => [.. HardCases.All.Keys];

    private static string HashOf(string element)
    {
        string content = Regex.Match(Page, $"<{element}>(.*?)</{element}>", RegexOptions.Singleline).Groups[1].Value;
        return "'sha256-" + Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(content))) + "'";
    }

    private static string Write(StudyResults results) => ReportPage.Write(results, FigureCatalog.DrawAll(results));
}
