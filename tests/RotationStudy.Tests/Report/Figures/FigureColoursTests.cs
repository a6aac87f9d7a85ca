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
    public void The_first_three_groups_stay_apart_for_the_colour_blind(bool dark)
    {
        FigureColours colours = Of(dark);
        foreach (double[][] matrix in Blindness)
        {
            double[][] seen = [.. colours.Series.Take(3).Select(c => See(matrix, c))];
            for (int i = 0; i < seen.Length; i++)
            {
                for (int j = 0; j < i; j++)
                    Assert.True(Math.Sqrt(seen[i].Zip(seen[j], (a, b) => (a - b) * (a - b)).Sum()) > 0.15, $"{i} and {j}");
            }
        }
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
        return [.. matrix.Select(row => Math.Clamp(row[0] * linear[0] + row[1] * linear[1] + row[2] * linear[2], 0, 1)).Select(v => Math.Pow(v, 1 / 2.4))];
    }

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
