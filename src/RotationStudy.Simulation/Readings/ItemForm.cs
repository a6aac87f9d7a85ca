using System.Collections.Immutable;
using RotationStudy.Simulation.Course;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Readings;

/// <summary>One filled-in form of items.</summary>
/// <param name="Visit">Code of the visit.</param>
/// <param name="Items">Points, 0 to 4, high is good.</param>
public sealed record ItemForm(string Visit, ImmutableArray<Reading> Items);

/// <summary>Fills in the items at each visit from which a form came back.</summary>
internal static class ItemForms
{
    internal const int Items = 8;

    internal static IEnumerable<ItemForm> FillIn(ItemScenario scenario, IReadOnlyList<AttendedVisit> visits, NamedStreams streams)
    {
        RandomDraws draws = streams.Open("items");
        foreach (AttendedVisit visit in visits)
        {
            bool halfEmpty = draws.Happens(scenario.HalfEmptyShare);
            Reading[] items = new Reading[Items];
            for (int i = 0; i < Items; i++)
            {
                double points = Math.Clamp(Math.Round(draws.Normal(visit.Function.Value / 25, scenario.ItemSd)), 0, 4);
                bool empty = draws.Happens(scenario.EmptyShare) || (halfEmpty && i >= Items / 2);
                items[i] = empty ? Reading.NotRecorded : Reading.Of(points);
            }
            if (visit.HasForm && visit.Function.State == ReadingState.Recorded)
                yield return new ItemForm(visit.Visit, [.. items]);
        }
    }
}
