using System.Globalization;

namespace RotationStudy.Study.Protocol.Reading;

/// <summary>Reads the folder norms of a protocol: one published norm per file.</summary>
internal static class NormsReader
{
    private const string Folder = "norms";

    private static readonly string[] Spreads = ["sd", "two_sd", "two_sd_range", "observed_range"];

    /// <summary>Names of the files, relative to the protocol folder, in ordinal order; none where there is no such folder.</summary>
    internal static IEnumerable<string> FilesOf(string protocolFolder)
    {
        string folder = Path.Combine(protocolFolder, Folder);
        return Directory.Exists(folder)
            ? Directory.EnumerateFiles(folder, "*.yaml").Select(p => $"{Folder}/{Path.GetFileName(p)}").Order(StringComparer.Ordinal)
            : [];
    }

    internal static Norm Read(YamlSection s, string file)
    {
        Norm norm = new(
            s.Text("id"), s.Text("label"), s.Text("of"), s.OptionalText("unit"), s.OptionalText("method_code"), s.Text("source"),
            s.Texts("cautions"), [.. s.Sections("rows").Select(ReadRow)], PlaceBook.TopOf(file));
        s.Need("rows", "List the values by sex and age.");
        if (norm.Id.Length > 0 && $"{Folder}/{norm.Id}.yaml" != file)
            s.Fault("id", $"The norm '{norm.Id}' stands in the file '{file}'.", $"Call the file {norm.Id}.yaml, so that it is found by its name.");
        s.Close();
        return norm;
    }

    private static NormRow ReadRow(YamlSection s)
    {
        double mean = s.Number("mean");
        int given = Spreads.Count(s.Has);
        if (given != 1)
        {
            s.Fault(
                "mean", $"A row of a norm has one spread, but {given.ToString(CultureInfo.InvariantCulture)} are given.",
                "Give one of 'sd', 'two_sd' (a half-width), 'two_sd_range' or 'observed_range'.");
        }
        (NormSpread spread, double lowest, double highest) = Spread(s, mean);
        NormRow row = new(
            s.OptionalText("sex"), s.Number("age_from"), s.Number("age_to"), mean, spread, lowest, highest,
            s.Has("n") ? s.WholeNumber("n") : null, s.Word<Evidence>("evidence") ?? Evidence.Recalled);
        s.Close();
        return row;
    }

    private static (NormSpread Spread, double Lowest, double Highest) Spread(YamlSection s, double mean)
    {
        double sd = s.Number("sd", 0);
        double twoSd = s.Number("two_sd", 0);
        (double Lowest, double Highest)? printed = Range(s, "two_sd_range");
        (double Lowest, double Highest)? seen = Range(s, "observed_range");
        if (printed is { } p)
            return (NormSpread.TwoStandardDeviationRange, p.Lowest, p.Highest);
        if (seen is { } o)
            return (NormSpread.ObservedRange, o.Lowest, o.Highest);
        return s.Has("two_sd")
            ? (NormSpread.TwoStandardDeviations, mean - twoSd, mean + twoSd)
            : (NormSpread.StandardDeviation, mean - (2 * sd), mean + (2 * sd));
    }

    private static (double Lowest, double Highest)? Range(YamlSection s, string key)
    {
        if (s.Section(key) is not { } range)
            return null;
        (double, double) read = (range.Number("lowest"), range.Number("highest"));
        range.Close();
        return read;
    }
}
