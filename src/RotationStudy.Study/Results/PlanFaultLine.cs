namespace RotationStudy.Study.Results;

/// <summary>Something that the plan asks and these data cannot give, found before anything was fitted.</summary>
/// <param name="Question">Question id.</param>
/// <param name="Where">File, line and column of the word in the plan.</param>
/// <param name="What">What is wrong, one sentence.</param>
/// <param name="Hint">What to do, one sentence.</param>
/// <param name="Stops">Whether the question gets no estimate; otherwise it is fitted with care.</param>
public sealed record PlanFaultLine(string Question, string Where, string What, string Hint, bool Stops);
