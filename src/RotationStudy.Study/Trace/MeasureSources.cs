using System.Collections;
using System.Collections.Immutable;
using System.Reflection;
using RotationStudy.Study.Analyses;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Trace;

/// <summary>The measures, tables and columns that a question reads, itself or through other measures.</summary>
/// <param name="Measures">Measure ids, in declared order.</param>
/// <param name="Tables">Tables, in declared order.</param>
/// <param name="Columns">Names of columns.</param>
internal sealed record MeasureSources(ImmutableArray<string> Measures, ImmutableArray<string> Tables, ImmutableHashSet<string> Columns)
{
    internal static MeasureSources Of(StudyProtocol protocol, QuestionDefinition question)
    {
        Walk walk = new(protocol);
        foreach (string id in AnalysisRunner.NeededMeasures(question).Concat(question.Characteristics).Append(question.GroupBy).Append(question.Keep?.Measure).OfType<string>())
            walk.Name(id);
        walk.Value(question.Readings);
        walk.Name(question.Reference ?? string.Empty);
        return walk.Found();
    }

    /// <summary>Goes through the records of the protocol and keeps every text that names a measure, a table or a column of these tables.</summary>
    /// <remarks>
    /// By reflection, not by a list of kinds: kinds of measure are added often, and one forgotten in a list would leave its
    /// source out unseen. A text that is a name by coincidence widens the list; nothing that is read can be missed.
    /// </remarks>
    private sealed class Walk(StudyProtocol protocol)
    {
        private readonly Dictionary<string, MeasureDefinition> measureOf = protocol.Measures.ToDictionary(m => m.Id, StringComparer.Ordinal);
        private readonly HashSet<string> measures = new(StringComparer.Ordinal);
        private readonly HashSet<string> tables = new(StringComparer.Ordinal);
        private readonly HashSet<string> texts = new(StringComparer.Ordinal);

        internal void Name(string text)
        {
            texts.Add(text);
            if (protocol.Tables.Any(t => t.Name == text))
                tables.Add(text);
            if (measureOf.TryGetValue(text, out MeasureDefinition? measure) && measures.Add(text))
                Value(measure);
        }

        internal void Value(object? value)
        {
            switch (value)
            {
                case null:
                    break;
                case string text:
                    Name(text);
                    break;
                case IEnumerable items:
                    foreach (object? item in items)
                        Value(item);
                    break;
                default:
                    if (value.GetType() is { IsClass: true } type && type.Namespace == typeof(StudyProtocol).Namespace)
                        Properties(value, type);
                    break;
            }
        }

        internal MeasureSources Found()
        {
            ImmutableArray<string> read = [.. protocol.Tables.Where(t => tables.Contains(t.Name)).Select(t => t.Name)];
            IEnumerable<string> columns = protocol.Tables.Where(t => tables.Contains(t.Name))
                .SelectMany(t => t.Columns.Select(c => c.Name).Where(texts.Contains).Concat(t.Key));
            return new MeasureSources(
                [.. protocol.Measures.Select(m => m.Id).Where(measures.Contains)], read, columns.ToImmutableHashSet(StringComparer.Ordinal));
        }

        private void Properties(object value, Type type)
        {
            foreach (PropertyInfo property in type.GetProperties(BindingFlags.Public | BindingFlags.Instance))
            {
                if (property.GetIndexParameters().Length == 0 && property.Name is not ("Place" or "Label" or "Unit" or "Source" or "EqualityContract"))
                    Value(property.Name == nameof(ValueMeasure.HipGate) && property.GetValue(value) is true ? protocol.Plan.HipGate : property.GetValue(value));
            }
        }
    }
}
