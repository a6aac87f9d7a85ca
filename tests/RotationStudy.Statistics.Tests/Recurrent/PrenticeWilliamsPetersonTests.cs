using RotationStudy.Statistics.Recurrent;

namespace RotationStudy.Statistics.Tests.Recurrent;

public class PrenticeWilliamsPetersonTests
{
    [Fact]
    public void Bladder_tumours_agree_with_the_reference_on_both_clocks()
    {
        Bladder.Agrees("pwp_total_time", PrenticeWilliamsPeterson.Fit(Bladder.Events, Bladder.X, RecurrenceClock.TotalTime, options: Bladder.Sandwich));
        Bladder.Agrees("pwp_gap_time", PrenticeWilliamsPeterson.Fit(Bladder.Events, Bladder.X, RecurrenceClock.GapTime, options: Bladder.Sandwich));
    }

    [Fact]
    public void With_one_stratum_and_total_time_it_is_the_Andersen_Gill_model()
    {
        Survival.CoxFitAssert.Same(
            AndersenGill.Fit(Bladder.Events, Bladder.X),
            PrenticeWilliamsPeterson.Fit(Bladder.Events, Bladder.X, RecurrenceClock.TotalTime, lastStratum: 1));
    }

    [Fact]
    public void A_last_stratum_below_one_is_refused()
        => Assert.Throws<InvalidInputError>(() => PrenticeWilliamsPeterson.Fit(Bladder.Events, Bladder.X, RecurrenceClock.GapTime, lastStratum: 0));
}
