using System.Globalization;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Exports;

/// <summary>What one reading of an export gathers, and who is told how far it is.</summary>
/// <param name="cancellation">Ends the reading early.</param>
/// <param name="progress">Told what is being read; null for silence.</param>
internal sealed class ExportReading(CancellationToken cancellation, IProgress<string>? progress)
{
    private const int RowsBetweenReports = 1 << 16;

    /// <summary>What the files are at fault for.</summary>
    internal List<Finding> Findings { get; } = [];

    /// <summary>Files that were opened, with their hashes.</summary>
    internal List<FileHash> Hashes { get; } = [];

    internal CancellationToken Cancellation => cancellation;

    /// <summary>Says that a file is being opened; an interruption takes effect here.</summary>
    internal void Begin(string file)
    {
        cancellation.ThrowIfCancellationRequested();
        progress?.Report($"Reading {file}");
    }

    /// <summary>Says how far a long file is; an interruption takes effect here.</summary>
    internal void Reached(string file, int rows)
    {
        cancellation.ThrowIfCancellationRequested();
        if (rows > 0 && rows % RowsBetweenReports == 0)
            progress?.Report(string.Create(CultureInfo.InvariantCulture, $"Reading {file}: {rows:N0} rows"));
    }

    /// <summary>Notes the hash of a file, once.</summary>
    internal void Note(FileHash hash)
    {
        if (Hashes.All(h => h.Name != hash.Name))
            Hashes.Add(hash);
    }
}
