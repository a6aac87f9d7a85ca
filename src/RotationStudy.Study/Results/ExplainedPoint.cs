namespace RotationStudy.Study.Results;

/// <summary>One point of the explanation of a measure: the terminal and the appendix of the report print the same.</summary>
/// <param name="Heading">What the point is about, such as "Sign".</param>
/// <param name="Text">What is to be known.</param>
public sealed record ExplainedPoint(string Heading, string Text);
