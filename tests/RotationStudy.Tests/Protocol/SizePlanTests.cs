using System.Collections.Immutable;
using RotationStudy.Study.Planning;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.Protocol;

/// <summary>planning.yaml is read strictly, and what it asks for is answered.</summary>
public sealed class SizePlanTests
{
    [Theory]
    [InlineData("ratio: 1.4", "ratio: 1", "1\n    events_per_row", "'ratio' is no effect.", "Write the smallest")]
    [InlineData("event_share: 0.2", "event_share: 1.2", "1.2", "'event_share' must be from 1E-06 to 1.", "Write a number")]
    [InlineData("question: Q6", "question: Q66", "Q66", "No question is called 'Q66'.", "Did you mean 'Q6'?")]
    [InlineData("power: 0.8", "power: 80", "80", "'power' must be above 0.5 and below 1.", "0.8 or 0.9")]
    [InlineData("dispersion: 1.0", "dispersal: 1.0", "dispersal", "Unknown key 'dispersal' in target 'rate_on_anteversion'.", "Did you mean 'dispersion'?")]
    [InlineData("kind: hazard_ratio", "kind: hazard_rato", "hazard_rato", "'hazard_rato' is no valid 'kind'.", "Did you mean 'hazard_ratio'?")]
    public void A_slip_is_found_at_its_place_with_a_hint(string old, string with, string pointsAt, string what, string hint)
    {
        using DamagedProtocol protocol = new DamagedProtocol().Replace("planning.yaml", old, with);
        ProtocolFault fault = Assert.Single(protocol.Faults(), f => f.What == what);
        Assert.StartsWith(hint, fault.Hint, StringComparison.Ordinal);
        Assert.Equal(protocol.PlaceOf("planning.yaml", pointsAt), fault.Place);
    }

    [Fact]
    public void The_number_needed_has_the_power_asked_for()
    {
        StudyProtocol protocol = ProtocolReader.Read(Path.Combine(Repository.Root, "protocols", "patellar-instability"));
        ImmutableArray<SampleSize> planned = SampleSizes.Of(protocol);
        Assert.Equal(protocol.Size!.Targets.Length, planned.Length);
        foreach (SampleSize size in planned.Where(s => s.PowerOfPlanned is not null))
        {
            SampleSize enough = SampleSizes.Of(protocol, (int)size.Participants).Single(s => s.Id == size.Id);
            SampleSize fewer = SampleSizes.Of(protocol, (int)(0.95 * size.Participants)).Single(s => s.Id == size.Id);
            Assert.True(enough.Enough && enough.PowerOfPlanned >= protocol.Size.Power);
            Assert.False(fewer.Enough);
            Assert.True(fewer.PowerOfPlanned < protocol.Size.Power);
        }
    }

    [Fact]
    public void A_second_knee_counts_less_than_a_second_person()
    {
        StudyProtocol protocol = ProtocolReader.Read(Path.Combine(Repository.Root, "protocols", "patellar-instability"));
        SizeTarget target = protocol.Size!.Targets.First(t => t.Goal is RateRatioGoal);
        RateRatioGoal goal = (RateRatioGoal)target.Goal;
        double one = Needed(goal with { Exposure = goal.Exposure with { RowsPerParticipant = 1 } });
        double two = Needed(goal with { Exposure = goal.Exposure with { RowsPerParticipant = 2 } });
        Assert.InRange(two, (one / 2) + 1, one - 1);

        double Needed(SizeGoal g)
            => SampleSizes.Of(protocol with { Size = protocol.Size with { Targets = [target with { Goal = g }] } })[0].Participants;
    }
}
