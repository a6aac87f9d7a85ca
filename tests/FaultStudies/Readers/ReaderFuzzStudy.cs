using System.Diagnostics;
using System.Globalization;
using System.Text;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;

namespace RotationStudy.FaultStudies.Readers;

/// <summary>Reads and checks many damaged files of every format: none may crash, hang or fill the memory, and rows must add up.</summary>
internal static class ReaderFuzzStudy
{
    private const double SlowSeconds = 5;
    private const long LargeBytes = 512L << 20;

    /// <summary>Reads some inputs, or one again, and writes the page of results after a whole run.</summary>
    /// <param name="repository">Folder of the repository.</param>
    /// <param name="first">Number of the first input.</param>
    /// <param name="inputs">Number of inputs.</param>
    internal static int Run(string repository, int first, int inputs)
    {
        string example = Path.Combine(repository, "protocols", "two-sites-example");
        StudyProtocol protocol = ProtocolReader.Read(example);
        IReadOnlyList<FuzzSeed> seeds = FuzzSeed.All(example);
        FuzzTally[] tallies = [.. seeds.Select(s => new FuzzTally(s.Name))];
        string work = Directory.CreateTempSubdirectory("reader-fuzz-").FullName;
        try
        {
            using ThreadLocal<string[]> folders = new(() => [.. seeds.Select((s, i) => Prepare(s, Path.Combine(work, FormattableString.Invariant($"{Environment.CurrentManagedThreadId}-{i}"))))]);
            int done = 0;
            Parallel.For(first, first + inputs, new ParallelOptions { MaxDegreeOfParallelism = Environment.ProcessorCount }, number =>
            {
                int which = number % seeds.Count;
                One(number, seeds[which], folders.Value![which], protocol, tallies[which]);
                if (Interlocked.Increment(ref done) % 50_000 == 0)
                    Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{done:N0} inputs"));
            });
        }
        finally
        {
            Directory.Delete(work, recursive: true);
        }
        string page = Page(tallies, first, inputs);
        Console.WriteLine(page);
        if (first == 0)
            File.WriteAllText(Path.Combine(repository, "docs", "reader-fuzz.md"), page);
        return tallies.Sum(t => t.Failures) == 0 ? 0 : 1;
    }

    private static string Prepare(FuzzSeed seed, string folder)
    {
        foreach ((string file, byte[] bytes) in seed.Beside)
        {
            string path = Path.Combine(folder, file);
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            File.WriteAllBytes(path, bytes);
        }
        Directory.CreateDirectory(Path.GetDirectoryName(Path.Combine(folder, seed.File))!);
        return folder;
    }

    private static void One(int number, FuzzSeed seed, string folder, StudyProtocol protocol, FuzzTally tally)
    {
        string path = Path.Combine(folder, seed.File);
        File.WriteAllBytes(path, seed.Damaged(new Mutator(number)));
        long allocated = GC.GetAllocatedBytesForCurrentThread();
        long started = Stopwatch.GetTimestamp();
        string? failure = null;
        bool read = false;
        try
        {
            ExportFolder export = ExportReader.Read(seed.File.EndsWith(".zip", StringComparison.Ordinal) ? path : folder, protocol);
            CheckedRecords records = RecordChecker.Check(protocol, export);
            read = !records.MustStop;
            if (records.Accounts.Any(a => !a.Balances))
                failure = "rows do not add up";
        }
        catch (Exception e)
        {
            failure = $"{e.GetType().Name}: {e.Message} {e.StackTrace?.Split('\n').FirstOrDefault(l => l.Contains("RotationStudy", StringComparison.Ordinal))?.Trim()}";
        }
        double seconds = Stopwatch.GetElapsedTime(started).TotalSeconds;
        allocated = GC.GetAllocatedBytesForCurrentThread() - allocated;
        if (seconds > SlowSeconds)
            failure ??= string.Create(CultureInfo.InvariantCulture, $"took {seconds:0.0} s");
        if (allocated > LargeBytes)
            failure ??= string.Create(CultureInfo.InvariantCulture, $"allocated {allocated >> 20} MB");
        if (failure is not null)
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"input {number}, {seed.Name}: {failure}"));
        tally.Add(read, failure is not null, allocated);
    }

    private static string Page(FuzzTally[] tallies, int first, int inputs)
    {
        StringBuilder page = new();
        page.Append(string.Create(CultureInfo.InvariantCulture, $"""
            # Damaged files

            What the readers did with {inputs:N0} damaged inputs, numbers {first:N0} to {first + inputs - 1:N0}. Each is a sound file of
            `protocols/two-sites-example` in one of the formats with one to four faults: cut off, bytes removed, doubled, flipped or
            replaced, or pieces put in that readers stumble over (quotation marks, control characters, direction marks, entities, huge
            numbers and repeats, error values, paths). A failure is an exception, an account of rows that does not add up, more than
            {SlowSeconds:0} seconds or more than {LargeBytes >> 20} MB for one input.

                dotnet run -c Release --project tests/FaultStudies -- readers . {inputs}

            One input again: `-- readers . 1 <its number>`. Most damage to a packed file breaks the packing, so parts and entries are damaged
            before packing too.

            | format | inputs | read, with or without findings | ended in findings that stop | failures | most allocated, MB |
            |---|---:|---:|---:|---:|---:|

            """));
        foreach (FuzzTally t in tallies)
            page.Append(string.Create(CultureInfo.InvariantCulture, $"| {t.Name} | {t.Inputs} | {t.Read} | {t.Inputs - t.Read - t.Failures} | {t.Failures} | {t.MostAllocated / 1e6:0} |\n"));
        return page.ToString();
    }
}
