using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>A model developed on this cohort, or a published score applied to it, with how well it did.</summary>
/// <param name="Id">Id.</param>
/// <param name="Kind">model or score.</param>
/// <param name="Title">Title.</param>
/// <param name="Asks">What it asks, a sentence; for a score its source.</param>
/// <param name="Outcome">The outcome with its time, in words.</param>
/// <param name="Answered">False when nothing could be judged.</param>
/// <param name="Answer">The result in a sentence, or why there is none.</param>
/// <param name="Method">How it was made and judged, in words.</param>
/// <param name="Counts">How much it rests on.</param>
/// <param name="LeftOut">Rows of the population that could not be used, by reason.</param>
/// <param name="Terms">Intercept and coefficients of a model, in log odds; empty for a score.</param>
/// <param name="Performance">Measures of performance by sample.</param>
/// <param name="Decision">Net benefit by threshold and sample.</param>
/// <param name="Points">Observed and published risk by points; empty for a model.</param>
/// <param name="SampleNeeds">How many persons the criteria of sample size ask for; empty for a score.</param>
/// <param name="Items">Items of reporting, with what this report says to each.</param>
/// <param name="Mapping">How variables, people and outcome stand for those of a publication; empty for a model.</param>
/// <param name="Unconfirmed">What of a publication could not be confirmed; empty for a model.</param>
/// <param name="Citations">Published sources of the methods.</param>
/// <param name="Warnings">Sentences that must stand beside the result.</param>
public sealed record PredictionResult(
    string Id, string Kind, string Title, string Asks, string Outcome, bool Answered, string Answer, string Method,
    AnalysisCounts Counts, ImmutableArray<ReasonCount> LeftOut,
    ImmutableArray<PredictionTerm> Terms, ImmutableArray<PerformanceRow> Performance, ImmutableArray<NetBenefitRow> Decision,
    ImmutableArray<PointsRow> Points, ImmutableArray<SampleNeed> SampleNeeds, ImmutableArray<ReportingItem> Items,
    ImmutableArray<string> Mapping, ImmutableArray<string> Unconfirmed, ImmutableArray<string> Citations, ImmutableArray<string> Warnings);

/// <summary>A term of a prediction model. There is no interval: penalised coefficients are biased on purpose.</summary>
/// <param name="Label">What it says; "Intercept" for the intercept.</param>
/// <param name="Coefficient">In log odds.</param>
public sealed record PredictionTerm(string Label, double Coefficient);

/// <summary>A measure of performance in one sample.</summary>
/// <param name="Sample">The sample in words.</param>
/// <param name="Measure">The measure.</param>
/// <param name="Value">Its value there.</param>
/// <param name="Lower">Lower end of the 95% interval; null where there is none.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="Optimism">Mean optimism by resampling persons; null where the sample was not used for development.</param>
/// <param name="Corrected">Value less optimism.</param>
public sealed record PerformanceRow(string Sample, string Measure, double Value, double? Lower, double? Upper, double? Optimism, double? Corrected);

/// <summary>Net benefit at a threshold.</summary>
/// <param name="Sample">The sample in words.</param>
/// <param name="Threshold">Risk above which one would act.</param>
/// <param name="NetBenefit">Acting on the prediction, per row.</param>
/// <param name="Lower">Lower end of the 95% interval.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="ActOnAll">Acting on all; acting on none is 0.</param>
public sealed record NetBenefitRow(string Sample, double Threshold, double NetBenefit, double Lower, double Upper, double ActOnAll);

/// <summary>Rows with a number of points.</summary>
/// <param name="Points">Points.</param>
/// <param name="Rows">Rows.</param>
/// <param name="Events">Rows with the outcome.</param>
/// <param name="Lower">Lower end of the 95% interval of the share observed; rows are taken as independent.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="Published">Published risk; null where it could not be confirmed.</param>
public sealed record PointsRow(int Points, int Rows, int Events, double Lower, double Upper, double? Published);

/// <summary>How many persons a criterion asks for.</summary>
/// <param name="Criterion">The criterion in words.</param>
/// <param name="Persons">Persons.</param>
/// <param name="Met">Whether as many were there.</param>
public sealed record SampleNeed(string Criterion, int Persons, bool Met);

/// <summary>An item of a reporting guideline.</summary>
/// <param name="Item">Number and name of the item.</param>
/// <param name="Says">What this report says to it, or that people must write it.</param>
public sealed record ReportingItem(string Item, string Says);
