using RotationStudy.Simulation.Scenarios;
using RotationStudy.Simulation.Streams;

namespace RotationStudy.Simulation.Course;

/// <summary>Function, pain and activity of a person over time, as reported: whole numbers within their scales.</summary>
internal sealed class SymptomCourse
{
    private const int RecentDays = 183;

    private readonly SymptomScenario scenario;
    private readonly double level;
    private readonly int[] dislocationDays;
    private readonly RandomDraws visits;

    internal SymptomCourse(
        SymptomScenario scenario, PersonFactors person, (TrueTorsion Left, TrueTorsion Right) torsion,
        IEnumerable<KneeEvent> events, NamedStreams streams)
    {
        this.scenario = scenario;
        double anteversion = (torsion.Left.AnteversionAtEnrolment + torsion.Right.AnteversionAtEnrolment) / 2;
        double tibial = (torsion.Left.Tibial + torsion.Right.Tibial) / 2;
        level = scenario.FunctionMean
            + (scenario.FunctionPer10Anteversion * (anteversion - 20) / 10)
            + (scenario.FunctionPer10Tibial * (tibial - 30) / 10)
            + (scenario.FunctionPerLaxity * person.LaxityLiability)
            + streams.Open("function of the person").Normal(0, scenario.FunctionPersonSd);
        dislocationDays = [.. events.Where(e => e.Kind == "dislocation").Select(e => e.Day)];
        visits = streams.Open("symptoms at visits");
    }

    internal (double Function, double Pain, double Activity) At(int day)
    {
        int recent = dislocationDays.Count(d => d <= day && d > day - RecentDays);
        double function = level
            + (scenario.FunctionPerYear * day / 365.25)
            + (scenario.FunctionPerRecentDislocation * recent)
            + visits.Normal(0, scenario.FunctionVisitSd);
        double pain = scenario.PainMean + (scenario.PainPerFunctionPoint * (function - 80)) + visits.Normal(0, scenario.PainSd);
        double activity = 5 + (0.05 * (function - 80)) + visits.Normal(0, 1.5);
        return (Scale(function, 100), Scale(pain, 10), Scale(activity, 10));
    }

    private static double Scale(double value, double top) => Math.Round(Math.Clamp(value, 0, top));
}
