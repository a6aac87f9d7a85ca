using System.Collections.Immutable;
using RotationStudy.Study;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Tests.EndToEnd;

/// <summary>The demo study and what becomes of it when the export lacks what a question needs. The data are invented.</summary>
public class DemoStudyTests
{
    private static readonly string Protocol = Path.Combine(Repository.Root, "protocols", "patellar-instability");
    private static readonly string Demo = Path.Combine(Repository.Root, "synthetic-data", "demo");

    [Fact]
    public void Every_question_of_the_plan_is_answered_and_its_rows_add_up()
    {
        StudyResults results = Run(_ => { });
        Assert.All(results.Questions, q => Assert.True(q.Answered, q.Answer));
        int knees = results.Flow.First(s => s.Branch is null && s.Units > 0).Units;
        // Questions of some knees, of visits and of weeks have a population of their own.
        ImmutableArray<QuestionDefinition> plan = ProtocolReader.Read(Protocol).Plan.Questions;
        string[] ofAllKnees = [.. plan.Where(q => q.Rows == RowLevel.Unit && q.Keep is null).Select(q => q.Id)];
        Assert.True(ofAllKnees.Length >= 14);
        Assert.All(
            results.Questions.Where(q => ofAllKnees.Contains(q.Id)),
            q => Assert.Equal(knees, q.Counts.Rows + q.LeftOut.Sum(r => r.Rows)));
        Assert.All(
            results.Questions.Where(q => !ofAllKnees.Contains(q.Id)),
            q => Assert.True(q.Counts.Rows > 0 && q.LeftOut.All(r => r.Rows > 0), q.Id));
    }

    [Fact]
    public void The_true_rate_ratio_lies_in_the_interval()
    {
        // Truth of the made-up cohort, synthetic-data/demo/truth.json: 1.349859 per 10 degrees of anteversion.
        EstimateRow row = Run(_ => { }).Questions.Single(q => q.Id == "Q5").Estimates.Single(e => e.Term == "anteversion");
        Assert.InRange(1.349859, row.Lower, row.Upper);
    }

    [Fact]
    public void Without_any_event_the_instability_questions_say_so_and_the_others_stand()
    {
        StudyResults results = Run(folder => KeepHeaderOnly(Path.Combine(folder, "events.csv")));
        foreach (string id in new[] { "Q4", "Q5", "Q6" })
        {
            QuestionResult question = results.Questions.Single(q => q.Id == id);
            Assert.False(question.Answered);
            Assert.Contains("No estimate can be given", question.Answer);
            Assert.Empty(question.Estimates);
        }
        Assert.NotEmpty(results.Questions.Single(q => q.Id == "Q6").Curves);
        Assert.True(results.Questions.Single(q => q.Id == "Q2").Answered);
    }

    [Fact]
    public void One_site_alone_is_a_study_too()
    {
        StudyResults results = Run(folder =>
        {
            string roster = Path.Combine(folder, "participants.csv");
            string[] kept = [.. File.ReadAllLines(roster).Where((line, i) => i == 0 || line.Split(',')[1] == "A")];
            HashSet<string> ids = [.. kept.Skip(1).Select(l => l.Split(',')[0])];
            foreach (string file in Directory.GetFiles(folder, "*.csv"))
                File.WriteAllLines(file, File.ReadAllLines(file).Where((line, i) => i == 0 || ids.Contains(line.Split(',')[0])));
        });
        Assert.True(results.Questions.Single(q => q.Id == "Q2").Answered);
        Assert.True(results.Questions.Single(q => q.Id == "Q1").Answered);
    }

    [Fact]
    public void A_single_participant_gives_reasons_instead_of_numbers()
    {
        StudyResults results = Run(folder =>
        {
            foreach (string file in Directory.GetFiles(folder, "*.csv"))
                File.WriteAllLines(file, File.ReadAllLines(file).Where((line, i) => i == 0 || line.StartsWith("A-001,", StringComparison.Ordinal)));
        });
        Assert.All(results.Questions.Where(q => q.Kind != "baseline"), q => Assert.False(q.Answered));
    }

    [Fact]
    public void The_order_of_rows_in_the_export_changes_no_estimate()
    {
        StudyResults forward = Run(_ => { });
        StudyResults backward = Run(folder =>
        {
            foreach (string file in Directory.GetFiles(folder, "*.csv"))
            {
                string[] lines = File.ReadAllLines(file);
                File.WriteAllLines(file, [lines[0], .. lines.Skip(1).Reverse()]);
            }
        });
        Assert.Equal(
            forward.Questions.SelectMany(q => q.Estimates).Select(e => (e.Term, e.Value, e.Lower, e.Upper, e.PValue)),
            backward.Questions.SelectMany(q => q.Estimates).Select(e => (e.Term, e.Value, e.Lower, e.Upper, e.PValue)));
    }

    private static void KeepHeaderOnly(string file) => File.WriteAllLines(file, File.ReadAllLines(file)[..1]);

    private static StudyResults Run(Action<string> damage)
    {
        string folder = Directory.CreateTempSubdirectory("export-").FullName;
        try
        {
            foreach (string file in Directory.GetFiles(Demo, "*.csv"))
                File.Copy(file, Path.Combine(folder, Path.GetFileName(file)));
            damage(folder);
            StudyProtocol protocol = ProtocolReader.Read(Protocol);
            CheckedRecords records = RecordChecker.Check(protocol, ExportReader.Read(folder, protocol));
            return StudyPipeline.Run(protocol, records, "test");
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
