using System.Collections.Immutable;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Course;

/// <summary>Milestones of recovery after the first operation of a knee: in order, not every knee reaches the last, none after the last contact.</summary>
internal static class Recovery
{
    /// <summary>Names with the shortest and longest wait after the one before, days.</summary>
    private static readonly (string Name, int Low, int High)[] Steps =
    [
        ("weight_bearing", 10, 42), ("normal_walking", 28, 70), ("hopping", 42, 98), ("return_to_sport", 56, 182),
    ];

    internal static ImmutableArray<Milestone> After(IEnumerable<KneeEvent> events, int lastContactDay, double returnShare, RandomDraws draws)
    {
        KneeEvent? operation = events.FirstOrDefault(e => e.Kind == "operation");
        if (operation is null)
            return [];
        bool returns = draws.Happens(returnShare);
        ImmutableArray<Milestone>.Builder milestones = ImmutableArray.CreateBuilder<Milestone>();
        int day = operation.Day;
        foreach ((string name, int low, int high) in Steps)
        {
            day += (int)Math.Round(draws.Between(low, high));
            if (day > lastContactDay || (name == "return_to_sport" && !returns))
                break;
            milestones.Add(new Milestone(name, day));
        }
        return milestones.ToImmutable();
    }
}
