using System.Globalization;

namespace RotationStudy.Benchmarks;

/// <summary>The synthetic cohort that other libraries were run on: a folder of CSV files and the analysis tables derived from it.</summary>
/// <remarks>The derivation rules stand in ReferenceData/Peers/SOURCE.md; the R script beside this file repeats them.</remarks>
internal sealed class PeerCohort
{
    private const double DaysPerYear = 365.25;

    private readonly Dictionary<string, int> personOf;
    private readonly string[][] persons;
    private readonly List<int>[] dislocations;
    private readonly int[] surgery;
    private readonly int[] lastDay;

    private PeerCohort(string folder)
    {
        persons = Rows(Path.Combine(folder, "persons.csv"));
        personOf = new Dictionary<string, int>(persons.Length, StringComparer.Ordinal);
        for (int i = 0; i < persons.Length; i++)
            personOf.Add(persons[i][0], i);
        dislocations = new List<int>[2 * persons.Length];
        surgery = new int[2 * persons.Length];
        Array.Fill(surgery, int.MaxValue);
        ReadEvents(Path.Combine(folder, "events.csv"));
        lastDay = new int[2 * persons.Length];
        for (int k = 0; k < lastDay.Length; k++)
            lastDay[k] = surgery[k] < int.MaxValue ? surgery[k] : Math.Max(30, (int)Math.Floor(Number(persons[k / 2][4]) * DaysPerYear));
        string[][] visits = Rows(Path.Combine(folder, "visits.csv"));
        AllKnees = KneeTable(visits, complete: false);
        Knees = KneeTable(visits, complete: true);
        Intervals = CountingProcess(Knees);
        Visits = VisitTable(visits);
        Persons = PersonTable();
        Raters = [.. Rows(Path.Combine(folder, "raters.csv")).Select(r => new[] { Number(r[1]), Number(r[2]), Number(r[3]) })];
    }

    /// <summary>One row per knee with anteversion and thigh-foot angle at the first visit; columns any, nd, pyr, end, t1, st1, cr, av, tfa, lax, age, female, quad, pain, out.</summary>
    internal PeerTable Knees { get; }

    /// <summary>As <see cref="Knees"/> with the incomplete ones, whose missing values are NaN.</summary>
    internal PeerTable AllKnees { get; }

    /// <summary>Counting process of the complete knees: start, stop, ev, av, tfa, lax, age, female.</summary>
    internal PeerTable Intervals { get; }

    /// <summary>One row per knee and visit with outcome, anteversion and thigh-foot angle: out, yr, av, tfa, lax, age, female.</summary>
    internal PeerTable Visits { get; }

    /// <summary>One row per person with anteversion of at least one knee: lax, age, female, avm.</summary>
    internal PeerTable Persons { get; }

    /// <summary>Anteversion of each subject by three raters.</summary>
    internal double[][] Raters { get; }

    /// <summary>Reads persons.csv, visits.csv, events.csv and raters.csv of a folder.</summary>
    internal static PeerCohort Read(string folder) => new(folder);

    private static string[][] Rows(string file) => [.. File.ReadLines(file).Skip(1).Where(l => l.Length > 0).Select(l => l.Split(','))];

    private static double Number(string text) => text.Length == 0 ? double.NaN : double.Parse(text, NumberStyles.Float, CultureInfo.InvariantCulture);

    private void ReadEvents(string file)
    {
        foreach (string[] row in Rows(file))
        {
            int knee = KneeOf(row);
            int day = int.Parse(row[2], NumberStyles.Integer, CultureInfo.InvariantCulture);
            if (row[3] == "dislocation")
                (dislocations[knee] ??= []).Add(day);
            else
                surgery[knee] = Math.Min(surgery[knee], day);
        }
        foreach (List<int>? days in dislocations)
            days?.Sort();
    }

    private int KneeOf(string[] row) => (2 * personOf[row[0]]) + (row[1] == "L" ? 0 : 1);

    private double Age(int person) => Number(persons[person][3]);

    private double Female(int person) => persons[person][2] == "F" ? 1 : 0;

    private PeerTable KneeTable(string[][] visits, bool complete)
    {
        PeerTable table = new("any", "nd", "pyr", "end", "t1", "st1", "cr", "av", "tfa", "lax", "age", "female", "quad", "pain", "out");
        // The first visit comes first for each person, left before right, persons in order of their identifier.
        foreach (string[] v in visits)
        {
            if (v[2] != "1" || (complete && (v[7].Length == 0 || v[8].Length == 0)))
                continue;
            int knee = KneeOf(v);
            List<int>? days = dislocations[knee];
            int count = days?.Count ?? 0;
            double first = count > 0 ? days![0] : lastDay[knee];
            double risk = count > 0 ? 1 : surgery[knee] < int.MaxValue ? 2 : 0;
            table.Add(
                knee / 2, knee, count > 0 ? 1 : 0, count, lastDay[knee] / DaysPerYear, lastDay[knee], first, count > 0 ? 1 : 0, risk, Number(v[7]), Number(v[8]), Number(v[9]), Age(knee / 2), Female(knee / 2), Number(v[10]), Number(v[11]), Number(v[12]));
        }
        return table;
    }

    private PeerTable CountingProcess(PeerTable knees)
    {
        PeerTable table = new("start", "stop", "ev", "av", "tfa", "lax", "age", "female");
        for (int i = 0; i < knees.Rows; i++)
        {
            int knee = knees.Knee[i];
            double start = 0;
            foreach (int day in dislocations[knee] ?? [])
            {
                AddInterval(table, knees, i, start, day, 1);
                start = day;
            }
            AddInterval(table, knees, i, start, lastDay[knee], 0);
        }
        return table;
    }

    private static void AddInterval(PeerTable table, PeerTable knees, int row, double start, double stop, double isEvent)
    {
        if (stop > start)
            table.Add(knees.Person[row], knees.Knee[row], start, stop, isEvent, knees["av"][row], knees["tfa"][row], knees["lax"][row], knees["age"][row], knees["female"][row]);
    }

    private PeerTable VisitTable(string[][] visits)
    {
        PeerTable table = new("out", "yr", "av", "tfa", "lax", "age", "female");
        // Ordered by person, knee, visit, as the R script does.
        foreach (IGrouping<int, string[]> knee in visits.GroupBy(KneeOf).OrderBy(g => g.Key))
        {
            foreach (string[] v in knee)
            {
                if (v[7].Length > 0 && v[8].Length > 0 && v[12].Length > 0)
                    table.Add(knee.Key / 2, knee.Key, Number(v[12]), Number(v[3]) / DaysPerYear, Number(v[7]), Number(v[8]), Number(v[9]), Age(knee.Key / 2), Female(knee.Key / 2));
            }
        }
        return table;
    }

    private PeerTable PersonTable()
    {
        PeerTable table = new("lax", "age", "female", "avm");
        for (int i = 0; i < AllKnees.Rows; i += 2)
        {
            double[] known = [.. AllKnees["av"].Skip(i).Take(2).Where(a => !double.IsNaN(a))];
            if (known.Length > 0)
                table.Add(AllKnees.Person[i], AllKnees.Knee[i], AllKnees["lax"][i], AllKnees["age"][i], AllKnees["female"][i], known.Average());
        }
        return table;
    }
}

/// <summary>Named columns of numbers; each row belongs to a person (by position from 0) and a knee (twice the person, plus one for the right).</summary>
internal sealed class PeerTable(params string[] names)
{
    private readonly Dictionary<string, List<double>> columns = names.ToDictionary(n => n, _ => new List<double>(), StringComparer.Ordinal);
    private readonly Dictionary<string, double[]> finished = new(StringComparer.Ordinal);

    internal List<int> Person { get; } = [];

    internal List<int> Knee { get; } = [];

    internal int Rows => Person.Count;

    internal double[] this[string name]
    {
        get
        {
            if (!finished.TryGetValue(name, out double[]? column) || column.Length != Rows)
                finished[name] = column = [.. columns[name]];
            return column;
        }
    }

    internal void Add(int person, int knee, params double[] values)
    {
        Person.Add(person);
        Knee.Add(knee);
        for (int j = 0; j < names.Length; j++)
            columns[names[j]].Add(values[j]);
    }
}
