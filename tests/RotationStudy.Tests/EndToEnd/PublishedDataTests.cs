using System.Text.Json;
using RotationStudy.Study;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.EndToEnd;

/// <summary>Data that nobody here made, from export to estimate through protocols of their own.</summary>
public class PublishedDataTests
{
    /// <summary>Potthoff and Roy 1964, Table 1. Expected: clubSandwich 0.5.8 on R 4.2.2 (ReferenceData/Mixed/orthodont, case ols_cluster).</summary>
    [Fact]
    public void Growth_with_children_as_clusters_equals_the_reference_library()
    {
        QuestionResult answer = Run("growth-example").Questions.Single(q => q.Id == "Q1");
        JsonElement expected = Case("Mixed/orthodont", "ols_cluster");
        Near(expected.GetProperty("coef").GetProperty("a").GetDouble(), Row(answer, "age").ModelValue, 1e-8);
        Near(expected.GetProperty("se").GetProperty("CR2").GetProperty("a").GetDouble(), Row(answer, "age").ModelStandardError!.Value, 1e-8);
        Near(expected.GetProperty("coef").GetProperty("a:male").GetDouble(), Row(answer, "age x sex: Male").ModelValue, 1e-8);
        Near(expected.GetProperty("se").GetProperty("CR2").GetProperty("a:male").GetDouble(), Row(answer, "age x sex: Male").ModelStandardError!.Value, 1e-8);
        Near(expected.GetProperty("cr2_satt_df")[3].GetDouble(), Row(answer, "age x sex: Male").DegreesOfFreedom!.Value, 1e-8);
        Assert.Equal(27, answer.Counts.Participants);
        Assert.Equal(108, answer.Counts.Rows);
    }

    /// <summary>Potthoff and Roy 1964, Table 1. Expected: lme4 1.1.31 and lmerTest 3.1.3 (ReferenceData/Mixed/orthodont).</summary>
    [Fact]
    public void Growth_with_a_line_for_each_child_equals_the_reference_library()
    {
        QuestionResult answer = Run("growth-example").Questions.Single(q => q.Id == "Q2");
        JsonElement expected = Case("Mixed/orthodont", "lmm_slope_reml");
        foreach ((string theirs, string ours) in new[] { ("a", "age"), ("male", "sex: Male"), ("a:male", "age x sex: Male") })
        {
            Near(expected.GetProperty("fixef").GetProperty(theirs).GetDouble(), Row(answer, ours).ModelValue, 1e-8);
            Near(expected.GetProperty("se").GetProperty(theirs).GetDouble(), Row(answer, ours).ModelStandardError!.Value, 1e-5);
        }
        Near(25, Row(answer, "age").DegreesOfFreedom!.Value, 1e-4);
    }

    /// <summary>Wei, Lin and Weissfeld 1989. Expected: survival 3.5.3 on R 4.2.2 (ReferenceData/Recurrent/bladder, case andersen_gill_efron).</summary>
    [Fact]
    public void All_recurrences_equal_the_reference_library()
    {
        QuestionResult answer = Run("recurrence-example").Questions.Single(q => q.Id == "Q1");
        JsonElement expected = Case("Recurrent/bladder", "andersen_gill_efron");
        Near(expected.GetProperty("coef").GetProperty("rx").GetDouble(), Row(answer, "treatment: 2").ModelValue, 1e-8);
        Near(expected.GetProperty("coef").GetProperty("size").GetDouble(), Row(answer, "largest").ModelValue, 1e-8);
        Near(expected.GetProperty("coef").GetProperty("number").GetDouble(), Row(answer, "tumours").ModelValue, 1e-8);
        Assert.Equal(112, answer.Counts.Events);
        Assert.Equal(178, answer.Counts.Rows);
    }

    private static StudyResults Run(string name)
    {
        string folder = Path.Combine(Repository.Root, "protocols", name);
        StudyProtocol protocol = ProtocolReader.Read(folder);
        CheckedRecords records = RecordChecker.Check(protocol, ExportReader.Read(Path.Combine(folder, "example-exports"), protocol));
        Assert.Empty(records.Findings);
        return StudyPipeline.Run(protocol, records, "test");
    }

    private static EstimateRow Row(QuestionResult answer, string term)
        => answer.Estimates.FirstOrDefault(r => r.Term == term)
            ?? throw new Xunit.Sdk.XunitException($"No estimate is called '{term}'; there are {string.Join(", ", answer.Estimates.Select(r => r.Term))}. {answer.Answer}");

    private static JsonElement Case(string folder, string id)
    {
        string file = Path.Combine(Repository.Root, "tests", "RotationStudy.Tests", "ReferenceData", folder, "expected.json");
        using JsonDocument document = JsonDocument.Parse(File.ReadAllText(file));
        return document.RootElement.GetProperty("cases").EnumerateArray().First(c => c.GetProperty("id").GetString() == id).Clone();
    }

    private static void Near(double expected, double found, double tolerance)
        => Assert.True(Math.Abs(found - expected) <= tolerance * Math.Abs(expected), FormattableString.Invariant($"expected {expected:R}, found {found:R}"));
}
