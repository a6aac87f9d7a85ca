using RotationStudy.Statistics.Recurrent;
using RotationStudy.Statistics.Survival;

namespace RotationStudy.Statistics.Tests.Recurrent;

public class WeiLinWeissfeldTests
{
    [Fact]
    public void Common_coefficients_agree_with_the_reference()
        => Bladder.Agrees("wlw_common", WeiLinWeissfeld.Fit(Bladder.Events, Bladder.X, 4, options: Bladder.Sandwich));

    [Fact]
    public void Coefficients_by_event_number_agree_with_the_reference_and_with_recalled_figures()
    {
        CoxFit fit = WeiLinWeissfeld.FitByNumber(Bladder.Events, Bladder.X, 4, options: new() { Ties = TiesMethod.Breslow });
        // Wei, Lin and Weissfeld 1989, recalled, not re-read: treatment -0.518, -0.619, -0.700, -0.651.
        double[] printed = [-0.518, -0.619, -0.700, -0.651];
        for (int k = 0; k < 4; k++)
        {
            foreach (string term in Bladder.X.Names)
                Close.Relative(Bladder.Case.Number($"cases/marginal_breslow_each_event/fits/{k}/coef/{term}"), fit.Coefficients.Estimate($"{term}, event {k + 1}").Value, 1e-8);
            Close.Printed(printed[k], fit.Coefficients.Estimate($"rx, event {k + 1}").Value, 3);
        }
    }

    [Fact]
    public void The_joint_robust_covariance_agrees_with_the_reference()
    {
        // The reference fits event 1 and differences from it: its first block, and sums of blocks, are compared.
        CoxFit fit = WeiLinWeissfeld.FitByNumber(Bladder.Events, Bladder.X, 4, options: Bladder.Sandwich);
        double V(int i, int j) => Bladder.Case.Number($"cases/wlw_by_event_interaction/vcov_robust/{i}/{j}");
        int first = fit.Coefficients.IndexOf("rx, event 1");
        int second = fit.Coefficients.IndexOf("rx, event 2");
        int fourth = fit.Coefficients.IndexOf("rx, event 4");
        Close.Relative(V(0, 0), fit.Coefficients.Covariance[first, first], 1e-8);
        Close.Relative(V(0, 0) + V(0, 3), fit.Coefficients.Covariance[first, second], 1e-8);
        Close.Relative(V(0, 0) + V(0, 3) + V(0, 5) + V(3, 5), fit.Coefficients.Covariance[second, fourth], 1e-8);
    }

    [Fact]
    public void A_last_number_below_one_is_refused()
        => Assert.Throws<InvalidInputError>(() => WeiLinWeissfeld.Fit(Bladder.Events, Bladder.X, 0));
}
