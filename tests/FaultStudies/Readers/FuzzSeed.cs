using System.Text;
using System.Text.Json;
using Parquet;
using Parquet.Schema;

namespace RotationStudy.FaultStudies.Readers;

/// <summary>The sound inputs that are damaged, one of each format.</summary>
/// <param name="Name">What it is called in the table of results.</param>
/// <param name="File">Path of the file below the export folder; a zip stands beside the folder.</param>
/// <param name="Damaged">The bytes of the file, damaged.</param>
internal sealed record FuzzSeed(string Name, string File, Func<Mutator, byte[]> Damaged)
{
    /// <summary>Other files that stand beside it.</summary>
    internal IReadOnlyList<(string File, byte[] Bytes)> Beside { get; init; } = [];

    /// <summary>All formats, from the example of two sites.</summary>
    internal static IReadOnlyList<FuzzSeed> All(string example)
    {
        byte[] roster = Read("participants.csv");
        byte[] knees = Read("knee_exams.csv");
        string[][] rows = [.. Encoding.UTF8.GetString(knees).Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(l => l.Split(','))];
        (string, byte[])[] besideKnees = [("participants.csv", roster)];
        (string, byte[])[] besideSite = [.. besideKnees, ("knee_exams.csv", knees)];
        byte[] workbook = Read("south/patients.xlsx");
        byte[] hips = Read("south/hips.csv");
        List<(string, byte[])> parts = Workbook.Parts(rows);
        byte[] json = Json(rows);
        byte[] parquet = Parquet(rows);
        byte[] zip = Workbook.Zip([("participants.csv", roster), ("knee_exams.csv", knees)]);
        return
        [
            new("CSV", "knee_exams.csv", m => m.Damage(knees)) { Beside = besideKnees },
            new("CSV in UTF-16", "knee_exams.csv", m => m.Damage([0xFF, 0xFE, .. Encoding.Unicode.GetBytes(Encoding.UTF8.GetString(knees))])) { Beside = besideKnees },
            new("XLSX, its bytes", "knee_exams.xlsx", m => m.Damage(Workbook.Zip(parts))) { Beside = besideKnees },
            new("XLSX, one of its parts", "knee_exams.xlsx", m => OnePart(parts, m)) { Beside = besideKnees },
            new("Parquet", "knee_exams.parquet", m => m.Damage(parquet)) { Beside = besideKnees },
            new("Dataset-JSON", "knee_exams.json", m => m.Damage(json)) { Beside = besideKnees },
            new("zip, its bytes", "export.zip", m => m.Damage(zip)),
            new("zip, an entry or its name", "export.zip", m => Entry(m, roster, knees)),
            new("mapped text of a site", "south/hips.csv", m => m.Damage(hips)) { Beside = [.. besideSite, ("south/patients.xlsx", workbook)] },
            new("mapped workbook of a site", "south/patients.xlsx", m => m.Damage(workbook)) { Beside = [.. besideSite, ("south/hips.csv", hips)] },
        ];

        byte[] Read(string file) => System.IO.File.ReadAllBytes(Path.Combine(example, "example-exports", file));
    }

    private static byte[] OnePart(List<(string Name, byte[] Bytes)> parts, Mutator mutator)
    {
        int which = mutator.Below(parts.Count);
        return Workbook.Zip(parts.Select((p, i) => (p.Name, i == which ? mutator.Damage(p.Bytes) : p.Bytes)));
    }

    private static byte[] Entry(Mutator mutator, byte[] roster, byte[] knees)
    {
        string name = Encoding.UTF8.GetString(mutator.Damage(Encoding.UTF8.GetBytes(mutator.Below(2) == 0 ? "knee_exams.csv" : "export/knee_exams.csv")));
        bool inside = mutator.Below(2) == 0;
        (string, byte[])[] entries = [("participants.csv", roster), (inside ? "knee_exams.csv" : name.Length == 0 ? "." : name[..Math.Min(name.Length, 60_000)], inside ? mutator.Damage(knees) : knees)];
        return Workbook.Zip(entries);
    }

    private static byte[] Json(string[][] rows) => JsonSerializer.SerializeToUtf8Bytes(new
    {
        datasetJSONCreationDateTime = "2026-01-01T00:00:00",
        datasetJSONVersion = "1.1.0",
        name = "KNEES",
        columns = rows[0].Select(h => new { itemOID = $"IT.{h}", name = h, label = h, dataType = "string" }),
        rows = rows[1..],
    });

    private static byte[] Parquet(string[][] rows)
    {
        DataField[] fields = [.. rows[0].Select(h => (DataField)new DataField<string>(h))];
        using MemoryStream stream = new();
        WriteAsync().GetAwaiter().GetResult();
        return stream.ToArray();

        async Task WriteAsync()
        {
            await using ParquetWriter writer = await ParquetWriter.CreateAsync(new ParquetSchema(fields), stream);
            using ParquetRowGroupWriter group = writer.CreateRowGroup();
            for (int i = 0; i < fields.Length; i++)
                await group.WriteAsync(fields[i], rows[1..].Select(r => r[i]).ToArray());
        }
    }
}
