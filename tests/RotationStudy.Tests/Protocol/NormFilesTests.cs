using RotationStudy.Study.Protocol;

namespace RotationStudy.Tests.Protocol;

/// <summary>The shipped norms hold what their papers print. Grades of evidence are those of the files.</summary>
public class NormFilesTests
{
    private static readonly StudyProtocol Shipped = ProtocolReader.Read(Path.Combine(Repository.Root, "protocols", "patellar-instability"));

    // Staheli and others 1985 (J Bone Joint Surg Am 67:39-47), text beside figures 2-A to 2-F; transmalleolar axis recalled, not re-read.
    [Theory]
    [InlineData("staheli-1985-foot-progression", null, 10, -3, 20)]
    [InlineData("staheli-1985-medial-rotation", null, 45, 15, 65)]
    [InlineData("staheli-1985-medial-rotation-as-printed", "M", 50, 25, 65)]
    [InlineData("staheli-1985-medial-rotation-as-printed", "F", 40, 15, 60)]
    [InlineData("staheli-1985-medial-rotation-labels-swapped", "F", 50, 25, 65)]
    [InlineData("staheli-1985-lateral-rotation", null, 45, 25, 65)]
    [InlineData("staheli-1985-thigh-foot-angle", null, 10, -5, 30)]
    [InlineData("staheli-1985-transmalleolar-axis", null, 20, 0, 45)]
    public void The_printed_means_and_ranges_of_the_rotational_profile_stand(string norm, string? sex, double mean, double lowest, double highest)
    {
        NormRow row = Shipped.Norm(norm).RowOf(sex, 15)!;
        Assert.Equal((mean, lowest, highest), (row.Mean, row.Lowest, row.Highest));
    }

    // Strecker and others 1997 (J Bone Joint Surg Br 79:1019-1023), abstract: 24.1 and 34.9 with 17.4 and 15.9, called two standard
    // deviations there. The same group's single deviation of 8.6 for both (In Vivo 1995;9:257-261) is close to half of each.
    [Theory]
    [InlineData("strecker-1997-femoral-torsion", 24.1, 8.7)]
    [InlineData("strecker-1997-tibial-torsion", 34.9, 7.95)]
    public void A_printed_half_width_of_two_deviations_is_not_read_as_one(string norm, double mean, double deviation)
    {
        NormRow row = Shipped.Norm(norm).RowOf(null, 30)!;
        Assert.Equal(1, row.ZScore(mean + deviation), 9);
        Assert.Equal(-2, row.ZScore(mean - (2 * deviation)), 9);
        Assert.InRange(deviation, 8.6 * 0.9, 8.6 * 1.1);
    }

    // Kaiser and others 2016 (Arch Orthop Trauma Surg 136:1259-1264), abstract: Murphy 17.5 and 7.0, Jarrett 14.9 and 7.5.
    [Theory]
    [InlineData("kaiser-2016-anteversion-murphy", "murphy", 24.5)]
    [InlineData("kaiser-2016-anteversion-jarrett", "jarrett", 22.4)]
    public void One_deviation_above_the_mean_of_each_method_is_another_angle(string norm, string method, double value)
    {
        Norm shipped = Shipped.Norm(norm);
        Assert.Equal(method, shipped.MethodCode);
        Assert.Equal(1, shipped.RowOf(null, 30)!.ZScore(value), 9);
    }

    [Fact]
    public void No_norm_covers_an_age_that_its_source_does_not()
    {
        Assert.Null(Shipped.Norm("strecker-1997-tibial-torsion").RowOf(null, 17.9));
        Assert.Null(Shipped.Norm("kaiser-2016-anteversion-murphy").RowOf("F", 15));
        Assert.Null(Shipped.Norm("children-2018-tubercle-distance-mri").RowOf("M", 16));
    }

    [Fact]
    public void The_contradiction_between_the_sexes_is_printed_with_every_table_of_medial_rotation()
    {
        Norm[] medial = [.. Shipped.Norms.Where(n => n.Id.StartsWith("staheli-1985-medial", StringComparison.Ordinal))];
        Assert.Equal(3, medial.Length);
        Assert.All(medial, n => Assert.Contains(n.Cautions, c => c.Contains("contradicts itself", StringComparison.Ordinal)));
    }

    [Fact]
    public void Every_norm_has_a_source_and_every_row_a_grade_of_evidence()
        => Assert.All(Shipped.Norms, n =>
        {
            Assert.NotEmpty(n.Source);
            Assert.NotEmpty(n.Rows);
        });
}
