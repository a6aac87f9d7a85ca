using System.Security.Cryptography;
using System.Text;

namespace RotationStudy.Report.Html;

/// <summary>What surrounds the sections: head, style, script and the policy that forbids everything else.</summary>
/// <remarks>
/// The policy allows this one style sheet and this one script, by their hashes, and pictures inside the page. Nothing is loaded
/// from anywhere, nothing can be sent, and no script that slipped in would run.
/// </remarks>
internal static class PageShell
{
    private static readonly Lazy<string> Style = new(() => Read("page.css"));
    private static readonly Lazy<string> Script = new(() => Read("page.js"));

    /// <summary>Opens the page up to the main part.</summary>
    internal static void Begin(HtmlWriter page, string title)
    {
        string policy = $"default-src 'none'; style-src '{Hash(Style.Value)}'; script-src '{Hash(Script.Value)}'; img-src data:; base-uri 'none'; form-action 'none'";
        page.Open("html", ("lang", "en")).Open("head");
        page.Open("meta", ("charset", "utf-8"));
        page.Open("meta", ("http-equiv", "Content-Security-Policy"), ("content", policy));
        page.Open("meta", ("name", "viewport"), ("content", "width=device-width, initial-scale=1"));
        page.Open("meta", ("name", "referrer"), ("content", "no-referrer"));
        page.Open("meta", ("name", "color-scheme"), ("content", "light dark"));
        page.Element("title", title);
        page.Open("style").Markup(new TrustedMarkup(Style.Value)).Close("style").Close("head").Open("body");
        page.Element("a", "Skip to the answers", ("class", "skip"), ("href", "#answers"));
    }

    /// <summary>Closes the page.</summary>
    internal static void End(HtmlWriter page)
    {
        page.Open("div", ("id", "said"), ("class", "unseen"), ("aria-live", "polite")).Close("div");
        page.Open("script").Markup(new TrustedMarkup(Script.Value)).Close("script");
        page.Close("body").Close("html");
    }

    private static string Hash(string content) => "sha256-" + Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(content)));

    private static string Read(string file)
    {
        using Stream stream = typeof(PageShell).Assembly.GetManifestResourceStream("Html/" + file)
            ?? throw new InvalidOperationException($"{file} is missing from the program.");
        using StreamReader reader = new(stream, Encoding.UTF8);
        return reader.ReadToEnd().ReplaceLineEndings("\n");
    }
}
