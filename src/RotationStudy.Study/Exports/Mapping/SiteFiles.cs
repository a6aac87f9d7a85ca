using RotationStudy.Study.Checks;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Exports.Mapping;

/// <summary>Reads what mapped sites send for one table: their files lie in a folder of the export named after the site.</summary>
internal static class SiteFiles
{
    /// <summary>Adds the parts that can be read; whether any site with a folder sends the table.</summary>
    internal static bool Read(
        string root, TableDefinition table, StudyProtocol protocol, List<ExportFile> parts, ExportReading reading)
    {
        bool any = false;
        foreach (SiteMapping site in protocol.Mappings.Where(m => Directory.Exists(Path.Combine(root, m.Site))))
        {
            foreach (TableMapping mapping in site.Tables.Where(t => t.Table == table.Name))
            {
                any = true;
                string name = $"{site.Site}/{mapping.File}";
                string path = Path.Combine(root, site.Site, mapping.File);
                if (!File.Exists(path))
                {
                    reading.Findings.Add(CheckCatalog.FileMissing.InFile(
                        name, name, $"The file {name}, which the mapping of site {site.Site} turns into {table.Label}, is missing. Add it to the export."));
                    continue;
                }
                if (!ExportReader.IsInside(root, site.Site, reading.Findings) || !ExportReader.IsInside(root, name, reading.Findings))
                    continue;
                parts.AddRange(MappedFile.Read(path, name, mapping, table, reading));
            }
        }
        return any;
    }
}
