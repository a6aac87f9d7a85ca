using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Record;

/// <summary>A run folder in the making. Files gather in a hidden sibling and move into place together at the very end.</summary>
/// <remarks>
/// Until <see cref="Complete"/> returns, nothing under the final path has changed: a run that fails or is killed leaves
/// what was there before. A finished run is replaced only when asked; a folder that is not a run (no record in it, not empty)
/// is never touched. A run killed between the two renames of a replacement is put back by the next run in that place.
/// Only the owner may read the folder. Not safe for use from several threads; two processes exclude each other by a lock file.
/// </remarks>
public sealed class RunFolder : IDisposable
{
    private static readonly UTF8Encoding Utf8 = new(encoderShouldEmitUTF8Identifier: false);

    private readonly SortedDictionary<string, FileFacts> _written = new(StringComparer.Ordinal);
    private readonly RunPlace _place;
    private bool _completed;

    private RunFolder(RunPlace place) => _place = place;

    /// <summary>The final path, absolute.</summary>
    public string FullPath => _place.Final;

    /// <summary>What was written so far, in ordinal order of name.</summary>
    public ImmutableArray<FileFacts> Written => [.. _written.Values];

    /// <summary>Begins a run in that place.</summary>
    /// <param name="path">Folder of the run; made when missing, with its parents.</param>
    /// <param name="overwrite">Whether a finished run in that place may be replaced.</param>
    /// <exception cref="OutputError">The place is taken, in use, or cannot be written to.</exception>
    public static RunFolder Open(string path, bool overwrite = false) => new(RunPlace.Take(path, overwrite));

    /// <summary>Writes a file.</summary>
    /// <param name="name">Name relative to the folder, with forward slashes.</param>
    /// <param name="content">The bytes.</param>
    /// <exception cref="ArgumentException">The name leads out of the folder, was written before, or is the record's.</exception>
    /// <exception cref="OutputError">The file could not be written.</exception>
    public void Write(string name, ReadOnlySpan<byte> content)
    {
        if (!IsPlainName(name) || name is RunRecord.FileName or RunChain.FileName || _written.ContainsKey(name))
            throw new ArgumentException($"'{name}' cannot be the name of an output: it leads out of the folder, or is taken.", nameof(name));
        WriteBytes(name, content);
        _written.Add(name, new FileFacts(name, Convert.ToHexStringLower(SHA256.HashData(content)), content.Length));
    }

    /// <summary>Writes a text file as UTF-8 without a byte order mark.</summary>
    /// <inheritdoc cref="Write(string, ReadOnlySpan{byte})"/>
    public void Write(string name, string content) => Write(name, Utf8.GetBytes(content));

    /// <summary>Writes the chain and last the record, then moves the folder into place.</summary>
    /// <returns>The record with the head of the chain.</returns>
    /// <exception cref="OutputError">The record could not be written or the folder not moved; what was there before is still there.</exception>
    public RunRecord Complete(StudyResults results)
    {
        ObjectDisposedException.ThrowIf(_completed, this);
        (ImmutableArray<ChainEntry> chain, RunRecord record) = RunChain.Close(results, Written);
        WriteBytes(RunChain.FileName, RunChain.Write(chain));
        WriteBytes(RunRecord.FileName, ResultsJson.WriteRecord(record));
        _place.MoveIntoPlace();
        _completed = true;
        return record;
    }

    /// <summary>Lets go of the place; without <see cref="Complete"/> all that was written is discarded.</summary>
    public void Dispose() => _place.Dispose();

    private void WriteBytes(string name, ReadOnlySpan<byte> content)
    {
        string path = Path.Combine(_place.Unfinished, name);
        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            using FileStream stream = new(path, FileMode.CreateNew, FileAccess.Write, FileShare.None);
            stream.Write(content);
            if (name is RunRecord.FileName or RunChain.FileName)
                stream.Flush(flushToDisk: true);
        }
        catch (Exception fault) when (OutputError.Covers(fault))
        {
            throw OutputError.From(fault, Path.Combine(_place.Final, name));
        }
    }

    /// <summary>Whether a name stays inside the folder and needs no quoting anywhere.</summary>
    internal static bool IsPlainName(string name)
        => name.Split('/').All(part => part.Length > 0 && part is not ("." or "..")
            && part.All(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_' or '.'));
}
