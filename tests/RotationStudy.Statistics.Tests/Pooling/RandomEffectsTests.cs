using RotationStudy.Statistics.Pooling;
using RotationStudy.Statistics.Resampling;

namespace RotationStudy.Statistics.Tests.Pooling;

public class RandomEffectsTests
{
    private static readonly ReferenceCase Trials = ReferenceCase.Read("Pooling/vaccine_trials");
    private static readonly double[] Effects = Trials.Column("estimate");
    private static readonly double[] Errors = [.. Trials.Column("variance").Select(Math.Sqrt)];

    [Fact]
    public void Two_sources_by_hand()
    {
        // 0 and 2 with variance 1 each: Q = 2 on 1, moments (2 - 1) / (2 - 2/2) = 1, mean 1, typical variance 1, I squared 1/2.
        RandomEffectsFit found = RandomEffects.Pool([0, 2], [1, 1], new RandomEffectsOptions { Between = BetweenVarianceMethod.DerSimonianLaird, Adjusted = false });
        Close.Relative(2, found.Heterogeneity.Statistic, 1e-14);
        Close.Relative(1, found.BetweenVariance, 1e-14);
        Close.Relative(1, found.Mean.Value, 1e-14);
        Close.Relative(1, found.Mean.StandardError, 1e-14);
        Close.Relative(0.5, found.Inconsistency, 1e-14);
        Assert.Equal([0.5, 0.5], found.Shares);
    }

    [Theory]
    [InlineData("reml_adjusted", BetweenVarianceMethod.RestrictedLikelihood, true, 13)]
    [InlineData("reml_plain", BetweenVarianceMethod.RestrictedLikelihood, false, 13)]
    [InlineData("dl_plain", BetweenVarianceMethod.DerSimonianLaird, false, 13)]
    [InlineData("dl_adjusted", BetweenVarianceMethod.DerSimonianLaird, true, 13)]
    [InlineData("three_adjusted", BetweenVarianceMethod.RestrictedLikelihood, true, 3)]
    public void The_vaccine_trials_give_the_values_of_the_reference_library(string name, BetweenVarianceMethod between, bool adjusted, int sources)
        => Compare(name, RandomEffects.Pool(Effects[..sources], Errors[..sources], new RandomEffectsOptions { Between = between, Adjusted = adjusted }));

    [Fact]
    public void The_common_effect_is_that_of_the_reference_library()
    {
        Estimate found = RandomEffects.Pool(Effects, Errors).Common;
        Close.Relative(Trials.Number("common/mean"), found.Value, 1e-12);
        Close.Relative(Trials.Number("common/se"), found.StandardError, 1e-12);
    }

    [Fact]
    public void Leaving_out_each_source_is_pooling_the_others()
    {
        IReadOnlyList<RandomEffectsFit> found = RandomEffects.WithoutEach(Effects, Errors);
        Assert.Equal(13, found.Count);
        for (int i = 0; i < 13; i++)
            Compare($"without/{i}", found[i]);
    }

    [Fact]
    public void Shuffling_sources_and_rescaling_effects_change_nothing_but_the_scale()
    {
        RandomEffectsFit plain = RandomEffects.Pool(Effects, Errors);
        RandomEffectsFit turned = RandomEffects.Pool([.. Effects.Reverse().Select(v => -3 * v)], [.. Errors.Reverse().Select(v => 3 * v)]);
        Close.Relative(-3 * plain.Mean.Value, turned.Mean.Value, 1e-10);
        Close.Relative(9 * plain.BetweenVariance, turned.BetweenVariance, 1e-10);
        Close.Relative(plain.Inconsistency, turned.Inconsistency, 1e-10);
        Close.Relative(-3 * plain.Prediction.Upper, turned.Prediction.Lower, 1e-10);
        Close.Relative(plain.Shares[0], turned.Shares[^1], 1e-10);
    }

    [Fact]
    public void Sources_that_agree_too_well_have_no_variance_between_them_and_a_warning()
    {
        RandomEffectsFit found = RandomEffects.Pool([1, 1.001, 0.999], [1, 1, 1]);
        Assert.Equal(0, found.BetweenVariance);
        Assert.Equal(0, found.BetweenVarianceInterval.Lower);
        Assert.Contains(found.Warnings, w => w.Contains("agree better than chance", StringComparison.Ordinal));
    }

    [Fact]
    public void Equal_estimates_are_pooled_without_a_test()
    {
        RandomEffectsFit found = RandomEffects.Pool([0.5, 0.5], [1, 2]);
        Assert.Equal(0.5, found.Mean.Value, 14);
        Assert.Equal(0, found.BetweenVarianceInterval.Upper);
        Assert.False(double.IsNaN(found.Mean.PValue));
    }

    [Fact]
    public void One_source_and_a_standard_error_of_zero_are_refused()
    {
        Assert.Contains("1 estimate cannot show", Assert.Throws<TooFewDataError>(() => RandomEffects.Pool([1], [1])).Message, StringComparison.Ordinal);
        InvalidInputError zero = Assert.Throws<InvalidInputError>(() => RandomEffects.Pool([1, 2], [1, 0]));
        Assert.Equal(1, zero.Row);
        Assert.Contains("not above zero", zero.Message, StringComparison.Ordinal);
        Assert.Empty(RandomEffects.WithoutEach([1, 2], [1, 1]));
    }

    [Fact]
    public void Adjusted_intervals_hold_the_true_mean_as_often_as_they_say()
    {
        // 2000 sets of six sources of unequal size; the standard error of a coverage of 95% is 0.5%.
        RandomStream stream = new(11, "pooling coverage");
        int held = 0;
        double[] errors = [0.2, 0.25, 0.3, 0.4, 0.5, 0.6];
        for (int set = 0; set < 2000; set++)
        {
            double[] effects = [.. errors.Select(e => 0.4 + (0.3 * stream.Normal()) + (e * stream.Normal()))];
            ConfidenceInterval interval = RandomEffects.Pool(effects, errors).Mean.Interval;
            held += interval.Lower <= 0.4 && 0.4 <= interval.Upper ? 1 : 0;
        }
        Assert.InRange(held, 1865, 1935);
    }

    private static void Compare(string name, RandomEffectsFit found)
    {
        Close.Relative(Trials.Number(name + "/tau2"), found.BetweenVariance, 1e-8, name);
        Close.Relative(Trials.Number(name + "/mean"), found.Mean.Value, 1e-8, name);
        Close.Relative(Trials.Number(name + "/se"), found.Mean.StandardError, 1e-8, name);
        Close.Relative(Trials.Number(name + "/lower"), found.Mean.Interval.Lower, 1e-8, name);
        Close.Relative(Trials.Number(name + "/upper"), found.Mean.Interval.Upper, 1e-8, name);
        Close.Relative(Trials.Number(name + "/p"), found.Mean.PValue, 1e-8, name);
        Close.Relative(Trials.Number(name + "/tau2_lower"), found.BetweenVarianceInterval.Lower, 1e-8, name);
        Close.Relative(Trials.Number(name + "/tau2_upper"), found.BetweenVarianceInterval.Upper, 1e-8, name);
        Close.Relative(Trials.Number(name + "/i2") / 100, found.Inconsistency, 1e-8, name);
        Close.Relative(Trials.Number(name + "/i2_lower") / 100, found.InconsistencyInterval.Lower, 1e-8, name);
        Close.Relative(Trials.Number(name + "/i2_upper") / 100, found.InconsistencyInterval.Upper, 1e-8, name);
        Close.Relative(Trials.Number(name + "/q"), found.Heterogeneity.Statistic, 1e-8, name);
        Close.Relative(Trials.Number(name + "/q_p"), found.Heterogeneity.PValue, 1e-8, name);
        Close.Relative(Trials.Number(name + "/prediction_lower"), found.Prediction.Lower, 1e-8, name);
        Close.Relative(Trials.Number(name + "/prediction_upper"), found.Prediction.Upper, 1e-8, name);
    }
}
