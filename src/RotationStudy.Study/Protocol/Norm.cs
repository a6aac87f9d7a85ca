using System.Collections.Immutable;

namespace RotationStudy.Study.Protocol;

/// <summary>A published norm: a file in the folder norms of a protocol, named after its id.</summary>
/// <param name="Id">Id; the file is called id.yaml.</param>
/// <param name="Label">Name in the report.</param>
/// <param name="Of">What was measured, how, and in whom.</param>
/// <param name="Unit">Unit of the values; null for pure numbers.</param>
/// <param name="MethodCode">Code of the method that the norm holds for; null where the measure has no methods.</param>
/// <param name="Source">Publication.</param>
/// <param name="Cautions">What speaks against the norm, printed wherever it is used.</param>
/// <param name="Rows">Rows by sex and age.</param>
/// <param name="Place">Where it is declared.</param>
public sealed record Norm(
    string Id, string Label, string Of, string? Unit, string? MethodCode, string Source,
    ImmutableArray<string> Cautions, ImmutableArray<NormRow> Rows, Place Place)
{
    /// <summary>The row of a person, or null when the norm has none for that sex and age.</summary>
    /// <param name="sex">Code of sex; null matches rows of both sexes only.</param>
    /// <param name="age">Age in years.</param>
    public NormRow? RowOf(string? sex, double age)
        => Rows.FirstOrDefault(r => r.HoldsAge(age) && (r.Sex is null || r.Sex == sex));
}

/// <summary>What the spread of a row is.</summary>
public enum NormSpread
{
    /// <summary>One standard deviation.</summary>
    StandardDeviation,

    /// <summary>A half-width of two standard deviations, as some papers print after ±.</summary>
    TwoStandardDeviations,

    /// <summary>A printed range of two standard deviations to either side; its arms may differ.</summary>
    TwoStandardDeviationRange,

    /// <summary>The lowest and highest value seen: no z score can be made of it.</summary>
    ObservedRange,
}

/// <summary>A row of a norm.</summary>
/// <param name="Sex">Code of sex; null for both.</param>
/// <param name="AgeFrom">Youngest age in years, included.</param>
/// <param name="AgeTo">Oldest age in years, excluded.</param>
/// <param name="Mean">Mean.</param>
/// <param name="Spread">What the spread is.</param>
/// <param name="Lowest">Lower end of the range: two standard deviations below, or the lowest value seen.</param>
/// <param name="Highest">Upper end of the range.</param>
/// <param name="N">How many sides or persons; null where the source does not say.</param>
/// <param name="Evidence">How well the row is known.</param>
public sealed record NormRow(
    string? Sex, double AgeFrom, double AgeTo, double Mean, NormSpread Spread, double Lowest, double Highest, int? N, Evidence Evidence)
{
    /// <summary>Whether an age belongs to the row.</summary>
    public bool HoldsAge(double age) => age >= AgeFrom && age < AgeTo;

    /// <summary>Whether a z score can be made.</summary>
    public bool HasDeviation => Spread != NormSpread.ObservedRange;

    /// <summary>The z score of a value.</summary>
    /// <remarks>
    /// z = (value - mean) / s, where s is half the arm of the printed range on the side on which the value lies. For a
    /// symmetric range s is the standard deviation. For a printed range of unequal arms the distribution is read as two
    /// half-normals that meet at the mean: a convention of ours, since the papers say no more.
    /// </remarks>
    /// <exception cref="InvalidOperationException">The row holds a range of values seen, not deviations.</exception>
    public double ZScore(double value)
    {
        if (!HasDeviation)
            throw new InvalidOperationException("A range of values seen has no standard deviation.");
        return (value - Mean) / (value < Mean ? (Mean - Lowest) / 2 : (Highest - Mean) / 2);
    }
}
