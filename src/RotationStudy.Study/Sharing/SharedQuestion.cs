using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Sharing;
using RotationStudy.Study.Analyses;
using RotationStudy.Study.Measures;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Tables;

namespace RotationStudy.Study.Sharing;

/// <summary>A question of the plan as a site sees it: the columns follow from the plan alone, whatever the site's rows hold.</summary>
internal sealed class SharedQuestion
{
    private readonly QuestionDefinition question;
    private readonly AnalysisTable table;
    private readonly ImmutableArray<ModelTerm> terms;

    private SharedQuestion(QuestionDefinition question, AnalysisTable table, ImmutableArray<ModelTerm> terms)
    {
        this.question = question;
        this.table = table;
        this.terms = terms;
        Columns = [new SharedColumn(DesignMatrix.InterceptName, "Intercept", "intercept", []), .. terms.Select(Column)];
    }

    internal ImmutableArray<SharedColumn> Columns { get; }

    internal int Persons => table.ParticipantCount;

    internal int Rows => table.Rows;

    internal Clusters Clusters => Statistics.Clusters.From(table.Participants);

    internal double[] Outcome => [.. table[question.Outcome!].Values];

    /// <summary>The question of that id, if it can be shared.</summary>
    /// <exception cref="SharingRefusal">No such question, or of a kind that sums do not answer.</exception>
    internal static QuestionDefinition Find(StudyProtocol protocol, string id)
    {
        if (protocol.Plan.Questions.FirstOrDefault(q => q.Id == id) is not { } question)
            throw new SharingRefusal($"The plan has no question '{id}'.", $"It has {string.Join(", ", protocol.Plan.Questions.Select(q => q.Id))}.");
        if (question.Kind is not (QuestionKind.Mean or QuestionKind.Odds or QuestionKind.Rate))
            throw new SharingRefusal($"{id} cannot be answered from sums of sites.", "Questions of kind mean, odds and rate can.");
        return question;
    }

    internal static SharedFamily Family(QuestionDefinition question) => question.Kind switch
    {
        QuestionKind.Mean => SharedFamily.Linear,
        QuestionKind.Odds => SharedFamily.Logistic,
        _ => SharedFamily.Poisson,
    };

    internal static SharedQuestion Of(DerivedMeasures measures, QuestionDefinition question, RowFilter? site)
    {
        AnalysisTable table = TableBuilder.Build(measures, question.Rows, AnalysisRunner.NeededMeasures(question), question.Keep);
        if (site is not null)
        {
            PopulationFilter own = new(site, measures);
            table = PlannedModel.TableOf(table, [.. Enumerable.Range(0, table.Rows).Where(r => own.Holds(table.Keys[r]))]);
        }
        return new SharedQuestion(question, table, TermBuilder.EveryColumn(question, table));
    }

    /// <summary>The rows with some of the columns, in the order asked for.</summary>
    /// <exception cref="SharingRefusal">A column that the plan does not make.</exception>
    internal (SourceRows Rows, DesignMatrix Design) RowsOf(ImmutableArray<SharedColumn> asked)
    {
        int[] at = [.. asked.Select(a => Columns.IndexOf(Columns.FirstOrDefault(c => c.Name == a.Name) ?? throw new SharingRefusal(
            $"The request asks for a column '{a.Name}' that the plan does not make.", "Ask its sender which protocol it was made with.")))];
        DesignMatrix all = terms.IsEmpty
            ? DesignMatrix.InterceptOnly(table.Rows)
            : DesignMatrix.WithIntercept([.. terms.Select(t => (t.Name, (IReadOnlyList<double>)t.Values))]);
        DesignMatrix design = all.SelectColumns(at);
        double[] offset = question.FollowUp is null ? [] : [.. table[question.FollowUp].Values.Select(v => Math.Log(v / question.TimeUnitDays))];
        return (new SourceRows(Family(question), design, Outcome, offset, Clusters), design);
    }

    private SharedColumn Column(ModelTerm term)
    {
        ImmutableArray<string> of = term.Role != "interaction"
            ? []
            : [.. terms.SelectMany(a => terms, (a, b) => (A: a, B: b)).Where(p => TermBuilder.NameOfProduct(p.A, p.B) == term.Name).Take(1).SelectMany(p => new[] { p.A.Name, p.B.Name })];
        return new SharedColumn(term.Name, term.Label, term.Role, of);
    }
}
