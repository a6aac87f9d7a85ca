using System.Collections.Immutable;
using RotationStudy.Study.Protocol;
using RotationStudy.Study.Results;

namespace RotationStudy.Study.Trace;

/// <summary>The uses of random numbers that a plan has, for the record of the run.</summary>
internal static class RandomUses
{
    internal static ImmutableArray<RandomUse> Of(StudyProtocol protocol) =>
    [
        .. protocol.Plan.Questions.Where(q => q.MissingData is not null)
            .Select(q => new RandomUse(MissingData(q), $"multiple imputation of {q.Id}")),
    ];

    /// <summary>Stream of the imputation of a question.</summary>
    internal static string MissingData(QuestionDefinition question) => $"missing data {question.Id}";
}
