using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Benchmarks.Scale;

/// <summary>Reads and checks a wide table of visits and prints what each half took.</summary>
internal static class IngestTiming
{
    internal static int Run(string folder, int rows)
    {
        (string protocolFolder, string exportFolder) = WideExport.Write(folder, rows);
        StudyProtocol protocol = ProtocolReader.Read(protocolFolder);
        StageMeter meter = new();
        meter.Report("reading");
        ExportFolder export = ExportReader.Read(exportFolder, protocol);
        meter.Report("checking");
        CheckedRecords records = RecordChecker.Check(protocol, export);
        meter.Finish();
        Console.WriteLine();
        Console.WriteLine(FormattableString.Invariant($"{records.Accounts.Sum(a => a.Read)} rows read, {records.Accounts.Sum(a => a.Used)} used, {records.Findings.Length} findings"));
        foreach (IGrouping<string, Finding> rule in records.Findings.GroupBy(f => f.Rule))
            Console.WriteLine(FormattableString.Invariant($"{rule.Count()} of {rule.Key}, such as: {rule.First().Message}"));
        return records.MustStop ? 1 : 0;
    }
}
