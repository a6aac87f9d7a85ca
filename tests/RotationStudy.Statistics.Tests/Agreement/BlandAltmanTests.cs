using RotationStudy.Statistics.Agreement;
using RotationStudy.Statistics.Distributions;

namespace RotationStudy.Statistics.Tests.Agreement;

public class BlandAltmanTests
{
    private static readonly ReferenceCase Flow = ReferenceCase.Read("Agreement/bland_altman_pefr");
    private static readonly ReferenceCase Methods = ReferenceCase.Read("Agreement/methods");
    private static readonly ReferenceCase Noncentral = ReferenceCase.Read("Distributions/noncentral_t");
    private static readonly double TwoSd = 1 - StandardNormal.TwoSidedPValue(2);

    [Fact]
    public void The_peak_flow_data_give_the_limits_of_1986()
    {
        AgreementLimits two = BlandAltman.Estimate(Flow.Column("wright1"), Flow.Column("mini1"), LimitInterval.Approximate, TwoSd);
        Close.Relative(Flow.Number("cases/agreement_first_readings/mean"), two.Bias.Value, 1e-12);
        Close.Relative(Flow.Number("cases/agreement_first_readings/sd"), two.StandardDeviation, 1e-12);
        Close.Relative(Flow.Number("cases/agreement_first_readings/loa_z2/0"), two.Lower.Value, 1e-10);
        Close.Relative(Flow.Number("cases/agreement_first_readings/loa_z2/1"), two.Upper.Value, 1e-10);
        Close.Relative(Flow.Number("cases/agreement_first_readings/ci_bias_t/0"), two.Bias.Interval.Lower, 1e-10);
        Close.Relative(Flow.Number("cases/agreement_first_readings/ci_bias_t/1"), two.Bias.Interval.Upper, 1e-10);
        Close.Printed(Flow.Number("published/mean"), two.Bias.Value, 1);
        Close.Printed(Flow.Number("published/sd"), two.StandardDeviation, 1);
        AgreementLimits usual = BlandAltman.Estimate(Flow.Column("wright1"), Flow.Column("mini1"));
        Close.Relative(Flow.Number("cases/agreement_first_readings/loa_z196/0"), usual.Lower.Value, 1e-10);
        Close.Relative(Flow.Number("cases/agreement_first_readings/loa_z196/1"), usual.Upper.Value, 1e-10);
    }

    [Fact]
    public void Exact_intervals_are_tolerance_factors_of_the_noncentral_t()
    {
        AgreementLimits found = BlandAltman.Estimate(Flow.Column("wright1"), Flow.Column("mini1"));
        // n = 17: entries 2 and 3 of the table.
        double inner = double.Parse(Noncentral.Element("quantile/2/factor").GetString()!, System.Globalization.CultureInfo.InvariantCulture);
        double outer = double.Parse(Noncentral.Element("quantile/3/factor").GetString()!, System.Globalization.CultureInfo.InvariantCulture);
        Close.Relative(found.Bias.Value + (inner * found.StandardDeviation), found.Upper.Interval.Lower, 1e-9);
        Close.Relative(found.Bias.Value + (outer * found.StandardDeviation), found.Upper.Interval.Upper, 1e-9);
        Close.Relative(found.Bias.Value - (outer * found.StandardDeviation), found.Lower.Interval.Lower, 1e-9);
    }

    [Fact]
    public void Repeated_measurements_give_the_corrected_SD_of_1986()
    {
        (double[] Values, Clusters Subjects) wright = Stack("wright1", "wright2");
        (double[] Values, Clusters Subjects) mini = Stack("mini1", "mini2");
        AgreementLimits found = RepeatedBlandAltman.Unpaired(wright.Values, wright.Subjects, mini.Values, mini.Subjects, TwoSd);
        // Corrected SD by hand: root of the variance of mean differences plus a half of each within-subject variance; 37.7 in the Lancet (recalled).
        double sw = Flow.Number("cases/repeatability/wright_sw");
        double sm = Flow.Number("cases/repeatability/mini_sw");
        double[] w1 = Flow.Column("wright1");
        double[] w2 = Flow.Column("wright2");
        double[] m1 = Flow.Column("mini1");
        double[] m2 = Flow.Column("mini2");
        double[] d = [.. w1.Select((_, i) => (w1[i] + w2[i] - m1[i] - m2[i]) / 2)];
        double variance = d.Sum(v => (v - d.Average()) * (v - d.Average())) / 16;
        Close.Relative(Math.Sqrt(variance + (0.5 * sw * sw) + (0.5 * sm * sm)), found.StandardDeviation, 1e-10);
        Close.Printed(37.7, found.StandardDeviation, 1);
        Assert.True(found.Lower.Interval.Lower < found.Lower.Value && found.Lower.Value < found.Lower.Interval.Upper);
        Assert.True(found.Upper.Interval.Upper - found.Upper.Value > found.Upper.Value - found.Upper.Interval.Lower);
    }

    [Fact]
    public void Repeated_pairs_in_unequal_numbers_agree_with_the_script()
    {
        AgreementLimits found = RepeatedBlandAltman.Paired(Methods.Column("x"), Methods.Column("y"), Clusters.From(Methods.Text("subject")));
        Close.Relative(Methods.Number("repeated/bias"), found.Bias.Value, 1e-12);
        Close.Relative(Methods.Number("repeated/sd"), found.StandardDeviation, 1e-12);
        Assert.Equal(12, found.Subjects);
        Assert.Equal(11, found.Bias.DegreesOfFreedom);
    }

    [Fact]
    public void Proportional_limits_agree_with_the_script()
    {
        ProportionalLimits found = ProportionalBlandAltman.Estimate(Methods.Column("x"), Methods.Column("y"));
        Close.Relative(Methods.Number("proportional/bias/0"), found.Bias.Values[0], 1e-10);
        Close.Relative(Methods.Number("proportional/bias/1"), found.Bias.Values[1], 1e-10);
        Close.Relative(Methods.Number("proportional/slope_se"), found.Bias.StandardError(1), 1e-10);
        Close.Relative(Methods.Number("proportional/spread/0"), found.Spread.Values[0], 1e-9);
        (double lower, double bias, double upper) = found.At(20);
        Close.Relative(2 * 1.959963984540054 * Math.Sqrt(Math.PI / 2) * (found.Spread.Values[0] + (20 * found.Spread.Values[1])), upper - lower, 1e-10);
        Close.Relative(0.5 * (lower + upper), bias, 1e-12);
        Assert.Contains("line of the spread", Assert.Throws<InvalidInputError>(() => found.At(1e6)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Exchanging_the_methods_turns_the_sign()
    {
        AgreementLimits a = BlandAltman.Estimate(Flow.Column("wright1"), Flow.Column("mini1"));
        AgreementLimits b = BlandAltman.Estimate(Flow.Column("mini1"), Flow.Column("wright1"));
        Close.Relative(-a.Lower.Value, b.Upper.Value, 1e-12);
        Close.Relative(-a.Lower.Interval.Lower, b.Upper.Interval.Upper, 1e-10);
    }

    [Fact]
    public void A_constant_difference_has_limits_of_width_zero()
    {
        AgreementLimits found = BlandAltman.Estimate([3, 4, 5, 6], [1, 2, 3, 4]);
        Assert.Equal(2, found.Lower.Value);
        Assert.Equal(new ConfidenceInterval(2, 2, 0.95), found.Upper.Interval);
    }

    [Fact]
    public void Two_subjects_or_no_repeats_are_refused()
    {
        Assert.Contains("too few", Assert.Throws<TooFewDataError>(() => BlandAltman.Estimate([1, 2], [1, 3])).Message, StringComparison.Ordinal);
        Assert.Contains("measured twice", Assert.Throws<TooFewDataError>(() => RepeatedBlandAltman.Paired([1, 2, 3], [1, 3, 5], Clusters.EachRow(3))).Message, StringComparison.Ordinal);
    }

    private static (double[] Values, Clusters Subjects) Stack(string first, string second)
    {
        double[] a = Flow.Column(first);
        return ([.. a, .. Flow.Column(second)], Clusters.From([.. Enumerable.Range(0, a.Length), .. Enumerable.Range(0, a.Length)]));
    }
}
