using RotationStudy.Report.Figures;
using SkiaSharp;

namespace RotationStudy.Tests.Report.Figures;

/// <summary>Contrast by WCAG 2.2 (W3C, 2023), relative luminance; colour blindness by Machado, Oliveira and Fernandes 2009 (matrices of severity 1, recalled, not re-read).</summary>
public class FigureColoursTests
{
    private static readonly double[][][] Blindness =
    [
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]],
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]],
    ];

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Text_stands_out_at_seven_to_one_and_marks_at_three_to_one(bool dark)
    {
        FigureColours colours = Of(dark);
        Assert.True(Contrast(colours.Ink, colours.Paper) >= 7);
        Assert.True(Contrast(colours.QuietInk, colours.Paper) >= 7);
        Assert.True(Contrast(colours.Rule, colours.Paper) >= 3);
        Assert.All(colours.Series, c => Assert.True(Contrast(c, colours.Paper) >= 3, $"{c}: {Contrast(c, colours.Paper)}"));
    }

    [Fact]
    public void Contrast_of_black_on_white_is_twenty_one() => Assert.Equal(21, Contrast(SKColors.Black, SKColors.White), 1e-9);

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void All_five_groups_stay_apart_for_the_colour_blind_and_in_grey(bool dark)
    {
        FigureColours colours = Of(dark);
        double[][] grey = [.. colours.Series.Select(c => new[] { Lab([Linear(c.Red), Linear(c.Green), Linear(c.Blue)])[0], 0, 0 })];
        Assert.True(Least(grey) > 10, $"in grey: {Least(grey)}");
        foreach (double[][] matrix in Blindness)
        {
            double least = Least([.. colours.Series.Select(c => Lab(See(matrix, c)))]);
            Assert.True(least > 20, $"seen by the colour blind: {least}");
        }
    }

    [Fact]
    public void Lightness_of_white_is_a_hundred_and_equal_greys_have_no_distance()
    {
        Assert.Equal(100, Lab([1, 1, 1])[0], 0.001);
        Assert.Equal(53.1928, Lab([Linear(127), Linear(127), Linear(127)])[0], 0.001); // worked by hand from the definition
        Assert.Equal(0, Least([[50, 0, 0], [50, 0, 0]]));
    }

    [Fact]
    public void No_two_groups_share_colour_and_line_style()
    {
        string[] looks = [.. Enumerable.Range(0, 25).Select(i => $"{FigureStyle.Standard.Series(i)} {string.Join(' ', FigureTheme.Dashes(i))}")];
        Assert.Equal(25, looks.Distinct().Count());
    }

    private static FigureColours Of(bool dark) => dark ? FigureColours.Dark : FigureColours.Light;

    private static double[] See(double[][] matrix, SKColor color)
    {
        double[] linear = [Linear(color.Red), Linear(color.Green), Linear(color.Blue)];
        return [.. matrix.Select(row => Math.Clamp(row[0] * linear[0] + row[1] * linear[1] + row[2] * linear[2], 0, 1))];
    }

    /// <summary>CIELAB (CIE 1976) of linear sRGB under D65.</summary>
    private static double[] Lab(double[] c)
    {
        double x = F((0.4124564 * c[0] + 0.3575761 * c[1] + 0.1804375 * c[2]) / 0.95047);
        double y = F(0.2126729 * c[0] + 0.7151522 * c[1] + 0.0721750 * c[2]);
        double z = F((0.0193339 * c[0] + 0.1191920 * c[1] + 0.9503041 * c[2]) / 1.08883);
        return [116 * y - 16, 500 * (x - y), 200 * (y - z)];

        static double F(double t) => t > 216.0 / 24389 ? Math.Cbrt(t) : (24389.0 / 27 * t + 16) / 116;
    }

    private static double Least(double[][] seen)
        => Enumerable.Range(0, seen.Length).SelectMany(i => Enumerable.Range(0, i).Select(j => Math.Sqrt(seen[i].Zip(seen[j], (a, b) => (a - b) * (a - b)).Sum()))).Min();

    private static double Contrast(SKColor a, SKColor b)
    {
        double x = Luminance(a), y = Luminance(b);
        return (Math.Max(x, y) + 0.05) / (Math.Min(x, y) + 0.05);
    }

    private static double Luminance(SKColor c) => 0.2126 * Linear(c.Red) + 0.7152 * Linear(c.Green) + 0.0722 * Linear(c.Blue);

    private static double Linear(byte channel)
    {
        double v = channel / 255.0;
        return v <= 0.04045 ? v / 12.92 : Math.Pow((v + 0.055) / 1.055, 2.4);
    }
}
