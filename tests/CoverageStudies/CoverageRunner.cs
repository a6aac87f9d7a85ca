using System.Globalization;
using System.Text;
using RotationStudy.Statistics;

namespace RotationStudy.CoverageStudies;

/// <summary>Runs studies on all cores with one random stream per replicate and writes the table with its Monte-Carlo error.</summary>
internal static class CoverageRunner
{
    private const int DefaultReplicates = 2000;
    private const int SeedBase = 20260;

    internal static int Run(string[] args)
    {
        int replicates = DefaultReplicates;
        List<string> families = [];
        for (int i = 0; i < args.Length; i++)
        {
            if (args[i] == "--replicates")
                replicates = int.Parse(args[++i], NumberStyles.None, CultureInfo.InvariantCulture);
            else
                families.Add(args[i]);
        }
        if (families.Count == 0)
            families.AddRange(CoverageFamilies.All.Keys);
        foreach (string family in families)
        {
            if (!CoverageFamilies.All.TryGetValue(family, out Func<IReadOnlyList<CoverageStudy>>? studies))
            {
                Console.Error.WriteLine($"No family is called '{family}'. There are: {string.Join(", ", CoverageFamilies.All.Keys)}.");
                return 1;
            }
            string table = Table(family, studies(), replicates);
            Console.WriteLine(table);
            string folder = Path.Combine(FindRoot(), "docs", "coverage");
            Directory.CreateDirectory(folder);
            File.WriteAllText(Path.Combine(folder, family + ".md"), table);
        }
        return 0;
    }

    private static string Table(string family, IReadOnlyList<CoverageStudy> studies, int replicates)
    {
        StringBuilder text = new();
        text.Append(CultureInfo.InvariantCulture, $"# Bias and coverage: {family}\n\n");
        text.Append(CultureInfo.InvariantCulture, $"{replicates} simulated data sets per row, made by `dotnet run -c Release --project tests/CoverageStudies -- {family} --replicates {replicates}`.\n");
        text.Append("Bias is mean estimate minus truth; ± is one Monte-Carlo standard error; coverage is the share of 95% intervals that hold the truth.\n\n");
        text.Append("| estimator and setting | persons | truth | bias | empirical SD | mean SE | coverage, % | no estimate |\n|---|---:|---:|---:|---:|---:|---:|---:|\n");
        foreach (CoverageStudy study in studies)
        {
            Estimate?[] found = new Estimate?[replicates];
            Parallel.For(0, replicates, r =>
            {
                try
                {
                    found[r] = study.Replicate(new Random(unchecked((SeedBase * 1000003) + (study.Persons * 7919) + r)));
                }
                catch (StatisticsError)
                {
                    found[r] = null;
                }
            });
            Estimate[] kept = [.. found.OfType<Estimate>()];
            int n = kept.Length;
            double mean = kept.Average(e => e.Value);
            double sd = Math.Sqrt(kept.Sum(e => (e.Value - mean) * (e.Value - mean)) / (n - 1));
            double covered = kept.Count(e => e.Interval.Lower <= study.Truth && study.Truth <= e.Interval.Upper) / (double)n;
            text.Append(
                CultureInfo.InvariantCulture,
                $"| {study.Name} | {study.Persons} | {study.Truth:0.###} | {mean - study.Truth:0.0000} ± {sd / Math.Sqrt(n):0.0000} | {sd:0.000} | {kept.Average(e => e.StandardError):0.000} | {100 * covered:0.0} ± {100 * Math.Sqrt(covered * (1 - covered) / n):0.0} | {replicates - n} |\n");
        }
        return text.ToString();
    }

    internal static string FindRoot()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "RotationStudy.sln")))
            folder = folder.Parent;
        return folder?.FullName ?? throw new InvalidOperationException("RotationStudy.sln was not found above the binaries.");
    }
}
