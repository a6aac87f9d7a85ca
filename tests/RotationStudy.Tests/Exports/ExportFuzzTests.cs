using CsCheck;
using RotationStudy.Study.Checks;

namespace RotationStudy.Tests.Exports;

/// <summary>Whatever bytes a file holds, ingest ends with findings and never with a crash.</summary>
public sealed class ExportFuzzTests
{
    private static readonly Gen<byte> Byte = Gen.OneOf(
        Gen.Int[0, 14].Select(i => "\",;\t\r\n\0=-+.0AéL"u8[i]),
        Gen.Byte);

    private static readonly Gen<(int Where, int Cut, byte[] Put)> Mutation = Gen.Select(Gen.Int[0, 2000], Gen.Int[0, 12], Byte.Array[0, 8]);

    [Fact]
    public void Mutated_files_never_crash_and_rows_always_add_up()
    {
        Gen.Select(Gen.Int[0, 7], Mutation.Array[1, 4]).Sample(
            (file, mutations) =>
            {
                using TestExport export = TestExport.Clean();
                string name = export.Files[file % export.Files.Count];
                byte[] bytes = System.Text.Encoding.UTF8.GetBytes(string.Join('\n', export.Lines(name)));
                foreach ((int where, int cut, byte[] put) in mutations)
                {
                    int at = where % bytes.Length;
                    bytes = [.. bytes[..at], .. put, .. bytes[Math.Min(at + cut, bytes.Length)..], (byte)'\n'];
                }
                CheckedRecords records = export.SetBytes(name, bytes).Check();
                return records.Accounts.All(a => a.Balances);
            },
            iter: 300);
    }
}
