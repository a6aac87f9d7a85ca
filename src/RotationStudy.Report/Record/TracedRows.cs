using System.Collections.Immutable;
using RotationStudy.Report.Files;
using RotationStudy.Study.Results;

namespace RotationStudy.Report.Record;

/// <summary>The rows of a question as a file: ids and, for those left out, the reason. No value of anybody.</summary>
internal static class TracedRows
{
    internal static FlatTable ToTable(QuestionRows rows)
    {
        ImmutableArray<string> columns =
        [
            "participant_id", .. rows.HasSides ? ["side"] : Array.Empty<string>(), .. rows.HasOccasions ? ["occasion"] : Array.Empty<string>(), "used", "left_out_because",
        ];
        return new FlatTable(columns, [.. rows.Rows.Select(r => ImmutableArray.CreateRange<FlatCell>(
        [
            r.Participant, .. rows.HasSides ? [r.Side] : Array.Empty<FlatCell>(), .. rows.HasOccasions ? [r.Occasion] : Array.Empty<FlatCell>(),
            r.LeftOut is null ? "yes" : "no", r.LeftOut,
        ]))]);
    }
}
