using System.Collections.Immutable;
using RotationStudy.Statistics;
using RotationStudy.Statistics.Mixed;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Analyses;

/// <summary>Which persons move each exposure's estimate most: the model is fitted anew without each of those who might.</summary>
/// <remarks>
/// One Newton step per person, a by-product of the cluster-robust variance, orders all of them; the farthest of each estimate
/// are left out in turn and the model is fitted anew, so that the number printed is the estimate one would get. In small
/// studies, where one step may order badly, everyone is left out. Each fit stands alone, so the number of cores changes nothing.
/// Mixed models hold their variances and are solved anew for the fixed effects without each person.
/// </remarks>
internal static class PersonInfluence
{
    private const int MostShown = 5;
    private const int RefittedPerEstimate = 8;
    private const int FewPersons = 60;

    // Models whose variance has no such step leave everyone out, up to a number that takes about a second.
    private const int MostWithoutSteps = 400;
    private const double FarInStandardErrors = 0.5;

    internal static (ImmutableArray<InfluenceByPerson> Influence, ImmutableArray<DiagnosticFinding> Findings) Find(
        AnalysisInput input, ImmutableArray<EstimateRow> estimates)
    {
        const string check = CheckNames.Influence;
        EstimateRow[] rows = [.. estimates.Where(e => e.Role is "exposure" or "interaction")];
        if (rows.Length == 0)
            return ([], []);
        Clusters persons = input.Clusters();
        bool mixed = input.Question.Kind == QuestionKind.Trajectory;
        PersonLeftOut[]? without = mixed ? OfMixedModel(input, persons, rows)
            : Candidates(input, persons, rows) is { } candidates ? LeaveEachOut(input, persons, candidates, rows)
            : null;
        if (without is null)
            return ([], [new DiagnosticFinding(check, FindingStatus.NotCheckable, "Not run: the planned model has no step from its estimate that tells whom to leave out.", null)]);
        int failed = without.Count(w => w.Values is null);
        ImmutableArray<InfluenceByPerson> influence = [.. rows.Select((r, i) => OfTerm(r, i, without, input, failed))];
        DiagnosticFinding finding = Judge(check, influence);
        return (influence, [mixed ? finding with { Words = finding.Words + " Variances are held as estimated from all." } : finding]);
    }

    private static int[]? Candidates(AnalysisInput input, Clusters persons, EstimateRow[] rows)
    {
        if (persons.Count <= FewPersons)
            return [.. Enumerable.Range(0, persons.Count)];
        return TryFit(input, PlannedModel.Fit) is { LeaveOut: { } shifts } fit
            ? [.. rows.SelectMany(r => shifts.Farthest(fit.IndexOf(r.Term), RefittedPerEstimate)).Distinct().Order()]
            : persons.Count <= MostWithoutSteps ? [.. Enumerable.Range(0, persons.Count)]
            : null;
    }

    private static PersonLeftOut[] LeaveEachOut(AnalysisInput input, Clusters persons, int[] candidates, EstimateRow[] rows)
    {
        PersonLeftOut[] fits = new PersonLeftOut[candidates.Length];
        Parallel.For(0, candidates.Length, i =>
        {
            int[] rest = [.. Enumerable.Range(0, input.Table.Rows).Where(r => persons.ClusterOfRow[r] != candidates[i])];
            Coefficients? fit = TryFit(PlannedModel.WithRows(input, rest), PlannedModel.FitModelBased);
            fits[i] = new PersonLeftOut(
                input.Table.Participants[persons.Members(candidates[i])[0]], fit is null ? null : [.. rows.Select(r => fit.Values[fit.IndexOf(r.Term)])]);
        });
        return fits;
    }

    private static PersonLeftOut[] OfMixedModel(AnalysisInput input, Clusters persons, EstimateRow[] rows)
    {
        LinearMixedModelFit fit = LinearMixedModel.Fit(input.DesignWithIntercept(), input.Values(input.Question.Outcome), TrajectoryAnalysis.Terms(input));
        int[] positions = [.. rows.Select(r => fit.Coefficients.IndexOf(r.Term))];
        return [.. MixedInfluence.WithoutEachGroup(fit).Select((values, group) => new PersonLeftOut(
            input.Table.Participants[persons.Members(group)[0]], values is null ? null : [.. positions.Select(i => values[i])]))];
    }

    private static Coefficients? TryFit(AnalysisInput input, Func<AnalysisInput, Coefficients> fit)
    {
        try
        {
            return fit(input);
        }
        catch (StatisticsError)
        {
            // Told by the caller: with these rows the model has no estimate.
            return null;
        }
    }

    private static InfluenceByPerson OfTerm(EstimateRow row, int position, PersonLeftOut[] without, AnalysisInput input, int failed)
    {
        bool ratio = row.NoEffect == 1;
        double error = row.ModelStandardError is { } se and > 0 ? se : 1;
        IEnumerable<PersonShift> shifts = without
            .Where(w => w.Values is not null)
            .Select(w => (w.Person, Value: w.Values![position]))
            .Select(w => new PersonShift(input.Table.StudyKeys.Participants[w.Person], ratio ? Math.Exp(w.Value) : w.Value, (w.Value - row.ModelValue) / error))
            .OrderByDescending(s => Math.Abs(s.ShiftInStandardErrors)).ThenBy(s => s.Participant, StringComparer.Ordinal);
        return new InfluenceByPerson(row.Term, row.Label, [.. shifts.Take(MostShown)], failed);
    }

    private static DiagnosticFinding Judge(string check, ImmutableArray<InfluenceByPerson> influence)
    {
        InfluenceByPerson[] known = [.. influence.Where(i => i.Persons.Length > 0)];
        if (known.Length == 0)
            return new DiagnosticFinding(check, FindingStatus.NotCheckable, "The model could not be fitted without any one person.", null);
        InfluenceByPerson most = known.OrderByDescending(i => Math.Abs(i.Persons[0].ShiftInStandardErrors)).First();
        PersonShift first = most.Persons[0];
        string words = $"{first.Participant} moves an estimate most: without this person {most.Label} would be {Sentences.Number(first.Without)}, "
            + $"{Sentences.Number(Math.Abs(first.ShiftInStandardErrors))} standard errors {(first.ShiftInStandardErrors > 0 ? "higher" : "lower")}.";
        string failed = most.NotFitted == 0 ? string.Empty : $" Without {most.NotFitted} single persons the model cannot be fitted.";
        return Math.Abs(first.ShiftInStandardErrors) > FarInStandardErrors || most.NotFitted > 0
            ? new DiagnosticFinding(check, FindingStatus.Doubtful, words + failed + " Look at the record of this person before the estimate is relied on.", null)
            : new DiagnosticFinding(check, FindingStatus.Held, words, null);
    }

    /// <summary>The estimates without one person, on the scale of the model; null where there are none.</summary>
    private sealed record PersonLeftOut(int Person, double[]? Values);
}
