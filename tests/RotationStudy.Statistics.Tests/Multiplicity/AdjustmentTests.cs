using RotationStudy.Statistics.Multiplicity;

namespace RotationStudy.Statistics.Tests.Multiplicity;

public class AdjustmentTests
{
    private static readonly ReferenceCase Case = ReferenceCase.Read("Multiplicity/benjamini_hochberg_1995");

    [Theory]
    [InlineData("paper")]
    [InlineData("ties")]
    public void Adjusted_p_values_are_those_of_base_R(string family)
    {
        double[] p = Numbers(family + "/p");
        Compare(Numbers(family + "/holm"), HolmAdjustment.Adjust(p));
        Compare(Numbers(family + "/hochberg"), HochbergAdjustment.Adjust(p));
        Compare(Numbers(family + "/bh"), BenjaminiHochberg.Adjust(p));
    }

    [Fact]
    public void The_paper_rejects_four_where_family_wise_methods_reject_three()
    {
        double[] p = Numbers("paper/p");
        Assert.Equal(4, BenjaminiHochberg.Adjust(p).Count(v => v <= 0.05));
        Assert.Equal(3, HochbergAdjustment.Adjust(p).Count(v => v <= 0.05));
        Assert.Equal(3, HolmAdjustment.Adjust(p).Count(v => v <= 0.05));
    }

    [Fact]
    public void Three_p_values_by_hand()
    {
        double[] p = [0.02, 0.01, 0.04];
        Compare([0.04, 0.03, 0.04], HolmAdjustment.Adjust(p));
        Compare([0.04, 0.03, 0.04], HochbergAdjustment.Adjust(p));
        Compare([0.03, 0.03, 0.04], BenjaminiHochberg.Adjust(p));
    }

    [Fact]
    public void Order_does_not_matter_and_one_test_is_left_as_it_is()
    {
        double[] p = Numbers("ties/p");
        Compare(HolmAdjustment.Adjust(p).Reverse().ToArray(), HolmAdjustment.Adjust([.. p.Reverse()]));
        Assert.Equal(0.03, Assert.Single(BenjaminiHochberg.Adjust([0.03])));
        Assert.Empty(HolmAdjustment.Adjust([]));
    }

    [Fact]
    public void A_later_family_is_held_back_by_the_worst_hypothesis_before_it()
    {
        IReadOnlyList<IReadOnlyList<double>> found = Gatekeeping.Adjust(
            new HypothesisFamily("primary", [0.01]),
            new HypothesisFamily("secondary", [0.001, 0.03]),
            new HypothesisFamily("exploratory", [0.0001]));
        Compare([0.01], found[0]);
        // Holm within: 0.002 and 0.03; the gate of 0.01 lifts the first.
        Compare([0.01, 0.03], found[1]);
        Compare([0.03], found[2]);
    }

    [Fact]
    public void Families_of_one_are_the_fixed_sequence()
        => Compare([0.01, 0.2, 0.2], Gatekeeping.Adjust(new("a", [0.01]), new("b", [0.2]), new("c", [0.001])).Select(f => f[0]).ToArray());

    [Fact]
    public void P_values_outside_0_to_1_and_empty_families_are_refused()
    {
        Assert.Equal(1, Assert.Throws<InvalidInputError>(() => HolmAdjustment.Adjust([0.1, double.NaN])).Row);
        Assert.Contains("holds no hypothesis", Assert.Throws<InvalidInputError>(() => Gatekeeping.Adjust(new HypothesisFamily("empty", []))).Message, StringComparison.Ordinal);
    }

    private static double[] Numbers(string path) => [.. Case.Element(path).EnumerateArray().Select(e => e.GetDouble())];

    private static void Compare(double[] expected, IReadOnlyList<double> found)
    {
        Assert.Equal(expected.Length, found.Count);
        for (int i = 0; i < expected.Length; i++)
            Close.Relative(expected[i], found[i], 1e-12);
    }
}
