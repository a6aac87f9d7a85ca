using RotationStudy.Statistics.Recurrent;

namespace RotationStudy.Statistics.Tests.Recurrent;

public class RecurrentEventsTests
{
    private static readonly RecurrentEvents Two = new([new(0, 10, [3, 10], Terminal: true), new(2, 8, [])]);

    [Fact]
    public void Total_time_rows_adjoin_and_an_event_at_the_end_leaves_no_row_behind()
    {
        RiskRows rows = Two.CutAtEvents(gapTime: false, lastNumber: 9);
        Assert.Equal([0, 3, 2], rows.Times.Entry.ToArray());
        Assert.Equal([3, 10, 8], rows.Times.Exit.ToArray());
        Assert.Equal([true, true, false], rows.Times.IsEvent.ToArray());
        Assert.Equal([1, 2, 1], rows.EventNumber);
        Assert.Equal([0, 0, 1], rows.Unit);
    }

    [Fact]
    public void Gap_time_starts_anew_after_each_event()
    {
        RiskRows rows = Two.CutAtEvents(gapTime: true, lastNumber: 1);
        Assert.Equal([0, 0, 0], rows.Times.Entry.ToArray());
        Assert.Equal([3, 7, 6], rows.Times.Exit.ToArray());
        Assert.Equal([1, 1, 1], rows.EventNumber);
    }

    [Fact]
    public void Marginal_rows_wait_for_every_number_from_the_entry()
    {
        RiskRows rows = Two.MarginalRows(3);
        Assert.Equal([3, 10, 10, 8, 8, 8], rows.Times.Exit.ToArray());
        Assert.Equal([true, true, false, false, false, false], rows.Times.IsEvent.ToArray());
    }

    [Fact]
    public void Terminal_times_ignore_recurrences()
        => Assert.Equal([true, false], Two.TerminalTimes.IsEvent.ToArray());

    [Fact]
    public void Impossible_histories_are_refused_with_their_unit()
    {
        Assert.Equal(1, Assert.Throws<InvalidInputError>(() => new RecurrentEvents([new(0, 5, []), new(5, 5, [])])).Row);
        InvalidInputError order = Assert.Throws<InvalidInputError>(() => new RecurrentEvents([new(0, 5, [2, 2])]));
        Assert.Contains("event at 2, not after 2", order.Message, StringComparison.Ordinal);
        Assert.Throws<InvalidInputError>(() => new RecurrentEvents([new(0, 5, [6])]));
        Assert.Throws<InvalidInputError>(() => new RecurrentEvents([new(0, 5, [double.NaN])]));
        Assert.Throws<InvalidInputError>(() => new RecurrentEvents([]));
    }
}
