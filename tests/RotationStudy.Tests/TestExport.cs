using System.Text;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests;

/// <summary>A small export for the shipped knee protocol, clean until a test damages it; its folder goes when the test ends.</summary>
/// <remarks>Four invented participants, two visits each, both knees. No cell holds a comma, so rows are split by commas.</remarks>
internal sealed class TestExport : IDisposable
{
    private static readonly Lazy<StudyProtocol> Shipped
        = new(() => ProtocolReader.Read(Path.Combine(Repository.Root, "protocols", "patellar-instability")));

    private readonly SortedDictionary<string, List<string>> files = new(StringComparer.Ordinal);
    private readonly Dictionary<string, byte[]> raw = new(StringComparer.Ordinal);

    private TestExport() => Folder = Directory.CreateTempSubdirectory("rotationstudy-test-").FullName;

    internal string Folder { get; }

    /// <summary>The shipped protocol without its declared checks: the few rows here repeat each other, which those ask about.</summary>
    internal static StudyProtocol Protocol => Shipped.Value with { Checks = [] };

    /// <summary>The shipped protocol with its declared checks.</summary>
    internal static StudyProtocol WithChecks => Shipped.Value;

    /// <summary>An export without a fault.</summary>
    internal static TestExport Clean()
    {
        TestExport export = new();
        export.Start("participants.csv", "participant_id,site,sex,age_years,maturity,height_cm,body_mass_kg,last_contact_day,end_reason,prior_instability");
        export.Start("visits.csv", "participant_id,visit,visit_day");
        export.Start("knee_exams.csv", "participant_id,visit,side,rater,hip_finding,hip_internal_rotation_deg,hip_external_rotation_deg,trochanteric_prominence_deg,thigh_foot_angle_deg,transmalleolar_axis_deg,foot_progression_deg,patellar_glide_quadrants,apprehension,tracking_sign");
        export.Start("laxity.csv", "participant_id,visit,rater,trunk_palms_flat,thumb_left,thumb_right,little_finger_left_deg,little_finger_right_deg,elbow_left_deg,elbow_right_deg,knee_left_deg,knee_right_deg");
        export.Start("imaging.csv", "participant_id,side,imaging_no,imaging_day,modality,anteversion_method,femoral_anteversion_deg,tibial_torsion_deg,tubercle_distance_mm,patellar_height_ratio,trochlear_grade,patellar_tilt_deg,cartilage_lesion");
        export.Start("outcomes.csv", "participant_id,visit,knee_function_score,pain_0_10,activity_level_0_10");
        export.Start("events.csv", "participant_id,side,event_no,event_day,event_kind,operation_kind");
        export.Start("milestones.csv", "participant_id,side,milestone,milestone_day");
        export.AddParticipant("A-001", "A", "F", 14.2);
        export.AddParticipant("A-002", "A", "M", 16);
        export.AddParticipant("B-001", "B", "F", 13.5);
        export.AddParticipant("C-001", "C", "M", 19.9);
        export.AddRow("events.csv", "A-001,L,1,200,dislocation,none");
        export.AddRow("events.csv", "A-001,L,2,420,operation,ligament_reconstruction");
        export.AddRow("milestones.csv", "A-001,L,weight_bearing,470");
        export.AddRow("milestones.csv", "A-001,L,return_to_sport,NA");
        return export;
    }

    /// <summary>Replaces one cell; lines count from 1, the header being line 1.</summary>
    internal TestExport Set(string file, int line, string column, string value)
    {
        string[] cells = files[file][line - 1].Split(',');
        cells[Array.IndexOf(files[file][0].Split(','), column)] = value;
        files[file][line - 1] = string.Join(',', cells);
        return this;
    }

    /// <summary>Replaces a whole line, which may be the header.</summary>
    internal TestExport SetLine(string file, int line, string text)
    {
        files[file][line - 1] = text;
        return this;
    }

    /// <summary>Adds a row at the end of a file.</summary>
    internal TestExport AddRow(string file, string row)
    {
        files[file].Add(row);
        return this;
    }

    /// <summary>Removes the rows that begin with a text; a participant's rows begin with its identifier and a comma.</summary>
    internal TestExport RemoveRows(string file, string beginning)
    {
        List<string> lines = files[file];
        files[file] = [lines[0], .. lines.Skip(1).Where(l => !l.StartsWith(beginning, StringComparison.Ordinal))];
        return this;
    }

    /// <summary>Removes a column.</summary>
    internal TestExport RemoveColumn(string file, string column)
    {
        int at = Array.IndexOf(files[file][0].Split(','), column);
        files[file] = [.. files[file].Select(l => string.Join(',', l.Split(',').Where((_, i) => i != at)))];
        return this;
    }

    internal TestExport RemoveFile(string file)
    {
        files.Remove(file);
        return this;
    }

    /// <summary>Replaces a file by these bytes.</summary>
    internal TestExport SetBytes(string file, byte[] bytes)
    {
        raw[file] = bytes;
        return this;
    }

    /// <summary>The names of the files, in order.</summary>
    internal IReadOnlyList<string> Files => [.. files.Keys];

    /// <summary>The lines of a file, header first, to be shuffled or re-encoded by a test.</summary>
    internal List<string> Lines(string file) => files[file];

    /// <summary>Whether there is a file of that name.</summary>
    internal bool Has(string file) => files.ContainsKey(file);

    /// <summary>Writes the files and reads them back.</summary>
    internal ExportFolder Read()
    {
        foreach ((string name, List<string> lines) in files)
            File.WriteAllText(Path.Combine(Folder, name), string.Join('\n', lines) + "\n", new UTF8Encoding(false));
        foreach ((string name, byte[] bytes) in raw)
            File.WriteAllBytes(Path.Combine(Folder, name), bytes);
        return ExportReader.Read(Folder, Protocol);
    }

    /// <summary>Writes the files, reads them back and checks them.</summary>
    internal CheckedRecords Check() => RecordChecker.Check(Protocol, Read());

    /// <summary>Writes the files, reads them back and checks them, declared checks included.</summary>
    internal CheckedRecords CheckAll() => RecordChecker.Check(WithChecks, Read());

    public void Dispose() => Directory.Delete(Folder, recursive: true);

    private void Start(string file, string header) => files.Add(file, [header]);

    private void AddParticipant(string id, string site, string sex, double age)
    {
        AddRow("participants.csv", FormattableString.Invariant($"{id},{site},{sex},{age},open,165,58.5,800,study_end,yes"));
        AddRow("visits.csv", $"{id},baseline,0");
        AddRow("visits.csv", $"{id},month_12,370");
        foreach (string visit in new[] { "baseline", "month_12" })
        {
            AddRow("knee_exams.csv", $"{id},{visit},L,R1,free,52,41,18,12,21,8,2,yes,small");
            AddRow("knee_exams.csv", $"{id},{visit},R,R1,free,50,43,17,10,20,7,1,no,none");
            AddRow("laxity.csv", $"{id},{visit},R2,yes,yes,no,95,90,12,10,11,5");
            AddRow("outcomes.csv", $"{id},{visit},72.5,3,6");
        }
        AddRow("imaging.csv", $"{id},L,1,10,mri,murphy,22.5,31,14,1.2,b,18,none");
        AddRow("imaging.csv", $"{id},R,1,10,mri,murphy,19,33,13.5,1.1,a,12,none");
    }
}
