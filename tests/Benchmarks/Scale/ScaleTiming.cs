using RotationStudy.Report;
using RotationStudy.Report.Record;
using RotationStudy.Study;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Benchmarks.Scale;

/// <summary>Carries a study out and prints what each stage took.</summary>
internal static class ScaleTiming
{
    internal static int Run(string protocolFolder, string exportFolder, string workFolder)
    {
        StudyProtocol protocol = ProtocolReader.Read(protocolFolder);
        StageMeter meter = new();
        meter.Report("Reading the export");
        ExportFolder export = ExportReader.Read(exportFolder, protocol);
        meter.Report("Checking the records");
        CheckedRecords records = RecordChecker.Check(protocol, export);
        StudyResults results = StudyPipeline.Run(protocol, records, "benchmark", meter);
        using RunFolder folder = RunFolder.Open(Path.Combine(workFolder, "run"), true);
        StudyReport.Write(results, folder, meter);
        meter.Finish();
        return 0;
    }
}
