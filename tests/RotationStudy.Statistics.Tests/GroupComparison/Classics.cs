namespace RotationStudy.Statistics.Tests.GroupComparison;

/// <summary>Printed data of classical comparisons; sources in ReferenceData/GroupComparison/classics/SOURCE.md.</summary>
internal static class Classics
{
    /// <summary>Hours of sleep gained by ten patients under each of two drugs (Student 1908).</summary>
    internal static readonly double[] SleepFirst = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0];
    internal static readonly double[] SleepSecond = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];

    /// <summary>Permeability of placental membranes at term and early (Hollander and Wolfe 1973, page 69).</summary>
    internal static readonly double[] Term = [0.80, 0.83, 1.89, 1.04, 1.45, 1.38, 1.91, 1.64, 0.73, 1.46];
    internal static readonly double[] Early = [1.15, 0.88, 0.90, 0.74, 1.21];

    /// <summary>Depression scores before and after (Hollander and Wolfe 1973, page 27).</summary>
    internal static readonly double[] Before = [1.83, 0.50, 1.62, 2.48, 1.68, 1.88, 1.55, 3.06, 1.30];
    internal static readonly double[] After = [0.878, 0.647, 0.598, 2.05, 1.06, 1.29, 1.06, 3.14, 1.29];

    /// <summary>Mucociliary efficiency in three groups (Hollander and Wolfe 1973, page 116).</summary>
    internal static readonly double[][] Mucociliary = [[2.9, 3.0, 2.5, 2.6, 3.2], [3.8, 2.7, 4.0, 2.4], [2.8, 3.4, 3.7, 2.2, 2.0]];

    /// <summary>Dried weight of plants, control and two treatments (Dobson 1983).</summary>
    internal static readonly double[][] Plants =
    [
        [4.17, 5.58, 5.18, 6.11, 4.50, 4.61, 5.17, 4.53, 5.33, 5.14],
        [4.81, 4.17, 4.41, 3.59, 5.87, 3.83, 6.03, 4.89, 4.32, 4.69],
        [6.31, 5.12, 5.54, 5.50, 5.37, 5.29, 4.92, 6.15, 5.80, 5.26],
    ];

    internal static readonly ReferenceCase Reference = ReferenceCase.Read("GroupComparison/classics");
}
