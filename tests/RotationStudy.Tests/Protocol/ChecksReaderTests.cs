using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Protocol;

/// <summary>Each kind of slip in checks.yaml is found at its place, alone.</summary>
public sealed class ChecksReaderTests
{
    [Theory]
    [InlineData("kind: equal_sides", "kind: equal_side", "equal_side\n", "'equal_side' is no valid 'kind'.")]
    [InlineData("says: Please look whether one of the two", "say: Please look whether one of the two", "say: Please look", "Unknown key 'say' in check 'hip_arc'.", 2)]
    [InlineData("table: milestones\n    earlier: events", "table: milestone\n    earlier: events", "milestone\n    earlier", "No table is called 'milestone'.")]
    [InlineData("first: transmalleolar_axis_deg", "first: transmaleolar_axis_deg", "transmaleolar", "Table 'knee_exams' has no column 'transmaleolar_axis_deg'.")]
    [InlineData("first: transmalleolar_axis_deg", "first: patellar_glide_quadrants", "thigh_foot_angle_deg\n    limits", "'patellar_glide_quadrants' is in quadrants and 'thigh_foot_angle_deg' in degrees.")]
    [InlineData("first: transmalleolar_axis_deg", "first: apprehension", "apprehension\n    second", "Column 'apprehension' holds no numbers.")]
    [InlineData("limits: { lowest: 35, highest: 155 }", "limits: { lowest: 155, highest: 35 }", "{ lowest: 155", "The lowest value lies above the highest.")]
    [InlineData("codes: [operation] }\n    column", "codes: [operations] }\n    column", "operations] }", "Column 'event_kind' has no code 'operations'.")]
    [InlineData("match: [participant, visit]", "match: [visit]", "[visit]", "Rows of different participants do not belong together.")]
    [InlineData("severity: ask_the_site\n    table: participants", "severity: set_aside\n    table: participants", "set_aside\n    table: participants", "A check cannot set a participant aside.")]
    [InlineData("below_p: 0.0001", "below_p: 1", "1\n    at_least", "The p value that raises a question lies between 0 and 0.5.")]
    [InlineData("id: foot_axes", "id: hip_arc", "hip_arc\n    kind: pair_range\n    label: the two", "The check 'hip_arc' is declared twice.")]
    public void A_slip_is_found_at_its_place(string old, string with, string at, string what, int faults = 1)
    {
        using DamagedProtocol protocol = new DamagedProtocol().Replace("checks.yaml", old, with);
        IReadOnlyList<ProtocolFault> found = protocol.Faults();
        Assert.Equal(faults, found.Count);
        ProtocolFault fault = Assert.Single(found, f => f.What == what);
        Assert.Equal(protocol.PlaceOf("checks.yaml", at), fault.Place);
    }

    [Fact]
    public void A_protocol_without_the_file_declares_none()
    {
        using DamagedProtocol protocol = new DamagedProtocol().Delete("checks.yaml");
        Assert.Empty(ProtocolReader.Read(protocol.Folder).Checks);
    }

    [Fact]
    public void Every_check_has_an_id_of_its_own_a_sentence_and_a_source()
    {
        using DamagedProtocol protocol = new();
        StudyProtocol read = ProtocolReader.Read(protocol.Folder);
        Assert.True(read.Checks.Select(c => c.Kind).Distinct().Count() >= 11);
        Assert.All(read.Checks, c => Assert.True(c.Says[^1] is '.' or '?', c.Says));
        Assert.All(read.Checks, c => Assert.NotEmpty(c.Source));
        Assert.DoesNotContain(read.Checks, c => RotationStudy.Study.Checks.CheckCatalog.All.Any(r => r.Id == c.Id));
    }
}
