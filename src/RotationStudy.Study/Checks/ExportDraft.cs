using System.Collections.Immutable;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Checks;

/// <summary>All tables of an export while they are being checked.</summary>
/// <param name="Tables">The tables whose file could be read, in declared order.</param>
/// <param name="Roster">The one that lists the participants; null when the protocol has none or its file could not be read.</param>
internal sealed record ExportDraft(ImmutableArray<TableDraft> Tables, TableDraft? Roster)
{
    internal static ExportDraft Of(StudyProtocol protocol, ExportFolder exports)
    {
        ImmutableArray<TableDraft> tables =
            [.. protocol.Tables.Where(t => exports.Of(t.Name) is not null).Select(t => new TableDraft(t, exports.Of(t.Name)!))];
        return new ExportDraft(tables, tables.FirstOrDefault(t => t.Definition.IsRoster));
    }
}
