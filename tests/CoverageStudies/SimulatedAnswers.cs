using System.Collections.Concurrent;
using System.Collections.Immutable;
using RotationStudy.Simulation;
using RotationStudy.Simulation.Exports;
using RotationStudy.Simulation.Scenarios;
using RotationStudy.Study.Analyses;
using RotationStudy.Study.Checks;
using RotationStudy.Study.Exports;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.CoverageStudies;

/// <summary>The shipped plan carried out on one made-up cohort after another: exports written, read, checked, derived and answered.</summary>
/// <remarks>A cohort is drawn once for all questions. Permuting gives the bones of one person, both sides together, to another.</remarks>
/// <param name="scenario">The world that cohorts are drawn from.</param>
/// <param name="protocol">The shipped protocol.</param>
/// <param name="permuted">Whether the exposures are permuted between persons.</param>
internal sealed class SimulatedAnswers(Scenario scenario, StudyProtocol protocol, bool permuted)
{
    internal static readonly ImmutableArray<string> Questions = ["Q2", "Q3", "Q4", "Q5", "Q6"];
    private static readonly string[] Exposures = ["anteversion", "tibial_torsion"];
    private readonly ConcurrentDictionary<int, Lazy<ImmutableDictionary<string, EstimateRow?>>> known = new();

    /// <summary>The estimate of anteversion in a question; null where the data of this seed do not allow one.</summary>
    internal EstimateRow? Anteversion(string question, int seed)
        => known.GetOrAdd(seed, s => new Lazy<ImmutableDictionary<string, EstimateRow?>>(() => Answer(s))).Value[question];

    /// <summary>The demo's world without what blurs its truth: images without error, everybody imaged, no operation, no
    /// change of the rate after an event, no unmeasured history, laxity without effect, drop-out and forms for no reason.</summary>
    internal static Scenario Plain(int participants, double frailtyVariance)
    {
        Scenario demo = DemoScenario.Read();
        return demo with
        {
            Cohort = demo.Cohort with { Participants = participants },
            Sites = [.. demo.Sites.Select(s => s with { OtherMethodShare = 0 })],
            FollowUp = demo.FollowUp with { DropOutLogPerPainPoint = 0 },
            Imaging = demo.Imaging with { ImagedShare = 1, ReadingSd = 0 },
            Events = demo.Events with
            {
                RatePerYear = 0.2, PriorRatePerYear = 0.2, LogPerLaxity = 0, FrailtyVariance = frailtyVariance,
                RecurrenceFactor = 1, OperationAfterFirst = 0, OperationAfterLater = 0,
            },
            Symptoms = demo.Symptoms with { FunctionPerRecentDislocation = 0, FunctionPerLaxity = 0 },
        };
    }

    private ImmutableDictionary<string, EstimateRow?> Answer(int seed)
    {
        string folder = Directory.CreateTempSubdirectory("rotationstudy-truth-").FullName;
        try
        {
            CohortFolder.Write(new SimulatedCohort(scenario, seed), Path.Combine(folder, "exports"));
            CheckedRecords records = RecordChecker.Check(protocol, ExportReader.Read(Path.Combine(folder, "exports"), protocol));
            DerivedMeasures measures = MeasureDeriver.Derive(protocol, records);
            if (permuted)
                measures = Permute(measures, seed);
            return Questions.ToImmutableDictionary(
                id => id,
                id => AnalysisRunner.Answer(protocol, measures, protocol.Plan.Questions.Single(q => q.Id == id)).Estimates.FirstOrDefault(e => e.Term == "anteversion"));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static DerivedMeasures Permute(DerivedMeasures measures, int seed)
    {
        int[] giver = [.. Enumerable.Range(0, measures.Keys.Participants.Length)];
        new Random(seed).Shuffle(giver);
        return measures with { Columns = [.. measures.Columns.Select(c => Exposures.Contains(c.Definition.Id) ? Exchange(c, giver) : c)] };
    }

    private static MeasureColumn Exchange(MeasureColumn column, int[] giver)
    {
        int[] from = [.. column.Index.Keys.Select(k => column.Index.Find(k with { Participant = giver[k.Participant] }))];
        return column with { Values = [.. from.Select(f => column.Values[f])], Missing = [.. from.Select(f => column.Missing[f])] };
    }
}
