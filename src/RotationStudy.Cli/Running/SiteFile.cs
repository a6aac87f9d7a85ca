using RotationStudy.Study.Analyses;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Cli.Running;

/// <summary>Files that sites exchange.</summary>
internal static class SiteFile
{
    /// <summary>One hash over the protocol's files, as the record of a run has it.</summary>
    internal static string HashOf(StudyProtocol protocol) => StudyFactsBuilder.ProtocolHash(protocol);

    /// <summary>Writes aside, then moves: a half-written file never has the final name.</summary>
    internal static void Write(string path, byte[] content)
    {
        if (Path.GetDirectoryName(Path.GetFullPath(path)) is { } folder)
            Directory.CreateDirectory(folder);
        string unfinished = path + ".unfinished";
        File.WriteAllBytes(unfinished, content);
        File.Move(unfinished, path, overwrite: true);
    }
}
