using System.Globalization;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;
using YamlDotNet.Serialization;
using YamlDotNet.Serialization.NamingConventions;

namespace RotationStudy.Simulation.Scenarios;

/// <summary>Reads a scenario file strictly: an unknown, missing or repeated key, a number that is none, or a value that cannot be is an error with its place.</summary>
public static class ScenarioReader
{
    /// <summary>Reads a file.</summary>
    /// <exception cref="ScenarioError">The file does not hold a usable scenario.</exception>
    /// <exception cref="IOException">The file cannot be read.</exception>
    public static Scenario Read(string path) => Parse(File.ReadAllText(path), Path.GetFileName(path));

    /// <summary>Reads text; <paramref name="file"/> is the name used in messages.</summary>
    /// <exception cref="ScenarioError">The text does not hold a usable scenario.</exception>
    public static Scenario Parse(string text, string file)
    {
        Scenario scenario = Deserialize<Scenario>(text, file);
        ScenarioRules.Check(scenario, file);
        return scenario;
    }

    /// <summary>Reads the text of a rater sub-study's scenario.</summary>
    /// <exception cref="ScenarioError">The text does not hold a usable scenario.</exception>
    public static RaterStudyScenario ParseRaterStudy(string text, string file)
    {
        RaterStudyScenario scenario = Deserialize<RaterStudyScenario>(text, file);
        ScenarioRules.Check(scenario, file);
        return scenario;
    }

    /// <summary>Reads the text of a tracking study's scenario.</summary>
    /// <exception cref="ScenarioError">The text does not hold a usable scenario.</exception>
    public static TrackingStudyScenario ParseTrackingStudy(string text, string file)
    {
        TrackingStudyScenario scenario = Deserialize<TrackingStudyScenario>(text, file);
        ScenarioRules.Check(scenario, file);
        return scenario;
    }

    private static T Deserialize<T>(string text, string file)
        where T : class
    {
        T? scenario;
        try
        {
            scenario = Deserializer().Deserialize<T>(text);
        }
        catch (YamlException fault)
        {
            string where = FormattableString.Invariant($"{file}:{fault.Start.Line}:{fault.Start.Column}");
            throw new ScenarioError(where, $"{Innermost(fault).Message.TrimEnd('.')}.", "Compare with the demo scenario, which names every key.");
        }
        return scenario ?? throw new ScenarioError($"{file}:1:1", "The file is empty.", "Start from a copy of the demo scenario.");
    }

    private static IDeserializer Deserializer() => new DeserializerBuilder()
        .WithNamingConvention(UnderscoredNamingConvention.Instance)
        .WithTypeConverter(new PlainNumber())
        .WithTypeMapping<IReadOnlyList<SiteScenario>, List<SiteScenario>>()
        .WithTypeMapping<IReadOnlyList<VisitScenario>, List<VisitScenario>>()
        .WithTypeMapping<IReadOnlyList<ReasonScenario>, List<ReasonScenario>>()
        .WithTypeMapping<IReadOnlyList<string>, List<string>>()
        .WithDuplicateKeyChecking()
        .WithEnforceRequiredMembers()
        .WithEnforceNullability()
        .Build();

    private static Exception Innermost(Exception fault)
    {
        while (fault.InnerException is { } inner)
            fault = inner;
        return fault;
    }

    /// <summary>Plain decimal numbers only: no octal 010, no 1_000, no infinities, no comma.</summary>
    private sealed class PlainNumber : IYamlTypeConverter
    {
        public bool Accepts(Type type) => type == typeof(double) || type == typeof(int);

        public object ReadYaml(IParser parser, Type type, ObjectDeserializer rootDeserializer)
        {
            Scalar scalar = parser.Consume<Scalar>();
            const NumberStyles style = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint;
            bool octalLooking = scalar.Value.Length > 1 && scalar.Value[0] == '0' && char.IsAsciiDigit(scalar.Value[1]);
            if (!octalLooking && double.TryParse(scalar.Value, style, CultureInfo.InvariantCulture, out double number) && double.IsFinite(number))
            {
                if (type == typeof(double))
                    return number;
                if (number == Math.Floor(number) && Math.Abs(number) < int.MaxValue)
                    return (int)number;
            }
            string wanted = type == typeof(int) ? "a whole number" : "a number with a decimal point";
            throw new YamlException(scalar.Start, scalar.End, $"'{scalar.Value}' is not {wanted}");
        }

        public void WriteYaml(IEmitter emitter, object? value, Type type, ObjectSerializer serializer)
            => throw new NotSupportedException("Scenarios are read only.");
    }
}
