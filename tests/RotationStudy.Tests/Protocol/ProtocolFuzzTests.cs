using CsCheck;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Protocol;

/// <summary>Whatever a protocol file holds, the reader ends with a protocol or with faults and never with a crash.</summary>
public sealed class ProtocolFuzzTests
{
    private static readonly string[] Files = ["study.yaml", "tables.yaml", "measures.yaml", "plan.yaml", "figures.yaml"];
    private static readonly string[] Pieces = ["[", "]", "{", "}", ":", "- ", "\n", "\n  ", "\"", "'", "&a ", "*a", "!!int ", "#", "|", ">", "? ", "---\n", ", ", "\t", "é", "~", "1e999", "-"];

    [Fact]
    public void Mutated_protocols_end_in_faults_and_never_in_a_crash()
    {
        Gen.Select(Gen.Int[0, Files.Length - 1], Gen.Double[0, 1], Gen.Int[0, 30], Gen.Int[0, Pieces.Length - 1].Array[0, 3]).Sample(
            (file, where, cut, pieces) =>
            {
                using DamagedProtocol protocol = new();
                string path = Path.Combine(protocol.Folder, Files[file]);
                string text = File.ReadAllText(path);
                int at = (int)(where * (text.Length - 1));
                File.WriteAllText(path, text[..at] + string.Concat(pieces.Select(p => Pieces[p])) + text[Math.Min(at + cut, text.Length)..]);
                try
                {
                    ProtocolReader.Read(protocol.Folder);
                }
                catch (ProtocolError error)
                {
                    return error.Faults.Count > 0 && error.Faults.All(f => f.Place.File.Length > 0 && f.What.EndsWith('.') && f.Hint.Length > 0);
                }
                return true;
            },
            iter: 400);
    }
}
