using System.Text;
using RotationStudy.Simulation.Course;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Exports;

/// <summary>Writes a cohort as the CSV files of an export, with the truth beside them.</summary>
/// <remarks>
/// Participants are drawn in blocks on all cores and written in order, so memory does not grow with the cohort and the bytes
/// do not depend on the number of cores. Files gather in a hidden sibling folder that takes the final name at the end:
/// an interrupted run leaves nothing behind.
/// </remarks>
public static class CohortFolder
{
    /// <summary>Name of the file with the truth.</summary>
    public const string TruthFile = "truth.json";

    private const int BlockSize = 256;

    /// <summary>Writes the cohort.</summary>
    /// <param name="cohort">The cohort.</param>
    /// <param name="folder">Folder to make; it must not exist yet, or be empty.</param>
    /// <param name="progress">Told the number of participants written so far; null for nobody.</param>
    /// <param name="cancellation">Stops the writing; nothing stays behind.</param>
    /// <returns>What the cohort turned out to hold.</returns>
    /// <exception cref="IOException">The folder holds files already, or cannot be written to.</exception>
    public static CohortCounts Write(SimulatedCohort cohort, string folder, IProgress<int>? progress = null, CancellationToken cancellation = default)
    {
        CohortCounts counts = new();
        NewFolder.Write(folder, unfinished =>
        {
            counts = WriteTables(cohort, unfinished, progress, cancellation);
            File.WriteAllBytes(Path.Combine(unfinished, ScreeningLog.FileName), ScreeningLog.Write(cohort, counts));
            File.WriteAllBytes(Path.Combine(unfinished, TruthFile), Truth.ToJson(cohort, counts));
        });
        return counts;
    }

    private static CohortCounts WriteTables(SimulatedCohort cohort, string folder, IProgress<int>? progress, CancellationToken cancellation)
    {
        FileStream[] files = [.. ExportTable.All.Select(t => new FileStream(Path.Combine(folder, t.File), FileMode.CreateNew))];
        try
        {
            for (int t = 0; t < files.Length; t++)
                files[t].Write(Encoding.UTF8.GetBytes(string.Join(',', ExportTable.All[t].Header) + "\n"));
            CohortCounts counts = new();
            int total = cohort.Scenario.Cohort.Participants;
            int stride = BlockSize * Environment.ProcessorCount;
            for (int done = 0; done < total; done += stride)
            {
                Block[] blocks = [.. Enumerable.Range(0, Environment.ProcessorCount)
                    .Select(b => new Block(done + (b * BlockSize) + 1, Math.Min(total, done + ((b + 1) * BlockSize))))
                    .Where(b => b.First <= b.Last)];
                Parallel.ForEach(blocks, new ParallelOptions { CancellationToken = cancellation }, b => b.Draw(cohort));
                foreach (Block block in blocks)
                    block.WriteTo(files, counts);
                progress?.Report(Math.Min(total, done + stride));
            }
            return counts;
        }
        finally
        {
            foreach (FileStream file in files)
                file.Dispose();
        }
    }

    /// <summary>Consecutive participants, drawn together.</summary>
    private sealed class Block(int first, int last)
    {
        private readonly CsvText[] texts = [.. ExportTable.All.Select(_ => new CsvText())];
        private readonly List<SimulatedParticipant> participants = [];

        internal int First => first;

        internal int Last => last;

        internal void Draw(SimulatedCohort cohort)
        {
            for (int number = first; number <= last; number++)
            {
                SimulatedParticipant participant = cohort.Participant(number);
                participants.Add(participant);
                NamedStreams streams = new(cohort.Seed, number);
                for (int t = 0; t < texts.Length; t++)
                    ExportTable.All[t].Rows(cohort, participant, streams, texts[t]);
            }
        }

        internal void WriteTo(FileStream[] files, CohortCounts counts)
        {
            for (int t = 0; t < files.Length; t++)
                files[t].Write(texts[t].ToBytes());
            foreach (SimulatedParticipant participant in participants)
                counts.Add(participant);
        }
    }
}
