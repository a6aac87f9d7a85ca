using System.Collections.Immutable;

namespace RotationStudy.Study.Results;

/// <summary>The answer to one question of the plan.</summary>
/// <param name="Id">Question id.</param>
/// <param name="Title">Title.</param>
/// <param name="Asks">The question as a sentence.</param>
/// <param name="Kind">Kind, as the protocol writes it.</param>
/// <param name="Answered">False when no estimate could be given.</param>
/// <param name="Answer">The answer in one sentence with estimate and interval, or why there is none and what to do.</param>
/// <param name="Model">The exact model in words; empty for a table.</param>
/// <param name="Citations">Published sources of the methods used.</param>
/// <param name="Counts">How much the answer rests on.</param>
/// <param name="LeftOut">Rows of the population that could not be used, by reason.</param>
/// <param name="Estimates">Main estimates: exposures first, then adjustment, then interactions.</param>
/// <param name="Beside">Estimates of the exposures by another planned method, for comparison.</param>
/// <param name="Diagnostics">Checks of the model, in words.</param>
/// <param name="Warnings">Sentences that must stand beside the answer.</param>
/// <param name="Tables">Tables (a baseline table, group rates).</param>
/// <param name="Curves">Curves over time by group.</param>
/// <param name="Scatters">Points with fitted line and band, one per numeric exposure.</param>
public sealed record QuestionResult(
    string Id,
    string Title,
    string Asks,
    string Kind,
    bool Answered,
    string Answer,
    string Model,
    ImmutableArray<string> Citations,
    AnalysisCounts Counts,
    ImmutableArray<ReasonCount> LeftOut,
    ImmutableArray<EstimateRow> Estimates,
    ImmutableArray<EstimateRow> Beside,
    ImmutableArray<DiagnosticRow> Diagnostics,
    ImmutableArray<string> Warnings,
    ImmutableArray<ResultTable> Tables,
    ImmutableArray<EventFreeCurve> Curves,
    ImmutableArray<FitScatter> Scatters)
{
    /// <summary>How well readings agree, for a question of kind agreement; null otherwise.</summary>
    public AgreementResult? Agreement { get; init; }

    /// <summary>Curves over an arc, for a question of kind curves; the results of the study list them, so they are not written twice.</summary>
    internal TrackingResult? Tracking { get; init; }

    /// <summary>Further analyses, checks, curves of exposures and what it would take to change the conclusion.</summary>
    public QuestionSupplement Supplement { get; init; } = QuestionSupplement.None;

    /// <summary>Curves that rise from zero: cumulative incidence per event, or the mean number of events.</summary>
    public ImmutableArray<RisingCurves> Rising { get; init; } = [];

    /// <summary>Single lines, mean and norm of a quantity over age or time, for a question of kind trajectory; null otherwise.</summary>
    public GrowthLines? Growth { get; init; }

    /// <summary>Estimates of the exposures within each subgroup that the plan names.</summary>
    public ImmutableArray<SubgroupEstimates> Subgroups { get; init; } = [];

    /// <summary>Where its numbers come from; null in results written before there was one.</summary>
    public QuestionTrace? Trace { get; init; }
}

/// <summary>How much an answer rests on.</summary>
/// <param name="Participants">Participants.</param>
/// <param name="Units">Units (knees); 0 where a participant has one unit.</param>
/// <param name="Rows">Rows of the analysis table.</param>
/// <param name="Events">Events; 0 where there are none by design.</param>
/// <param name="TimeAtRisk">Sum of the time at risk in <paramref name="TimeUnit"/>; 0 where there is none by design.</param>
/// <param name="TimeUnit">Unit of time, such as years; null where there is none.</param>
public sealed record AnalysisCounts(int Participants, int Units, int Rows, int Events, double TimeAtRisk, string? TimeUnit);

/// <summary>One estimate. Ratios (odds, rate, hazard) are given on the ratio scale, with the model scale beside.</summary>
/// <param name="Term">Term in the model.</param>
/// <param name="Label">What the row says, such as "Femoral anteversion, per 10 degrees".</param>
/// <param name="Role">exposure, adjustment, interaction, intercept or other.</param>
/// <param name="Scale">What the number is: "difference", "odds ratio", "rate ratio", "hazard ratio".</param>
/// <param name="Unit">Unit of a difference; null for ratios.</param>
/// <param name="Value">Estimate on the scale named.</param>
/// <param name="Lower">Lower end of the 95% interval, same scale; may be infinite.</param>
/// <param name="Upper">Upper end; may be infinite.</param>
/// <param name="PValue">Two-sided p value of no association.</param>
/// <param name="ModelValue">Estimate on the scale of the model (log for ratios).</param>
/// <param name="ModelStandardError">Its standard error; null where the method gives none.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom; null for the normal reference.</param>
/// <param name="Method">Variance or likelihood method in words.</param>
/// <param name="NoEffect">Value of no association on the scale named: 0 or 1.</param>
public sealed record EstimateRow(
    string Term, string Label, string Role, string Scale, string? Unit,
    double Value, double Lower, double Upper, double PValue,
    double ModelValue, double? ModelStandardError, double? DegreesOfFreedom, string Method, double NoEffect)
{
    /// <summary>The p value judged together with the other tests of its family (Holm); null where it stands alone.</summary>
    public double? FamilyPValue { get; init; }
}

/// <summary>A check of the model.</summary>
/// <param name="Check">What was checked.</param>
/// <param name="Passed">Whether nothing speaks against the model; null for information only.</param>
/// <param name="Words">What was found, with the number, and what the reader should make of it.</param>
public sealed record DiagnosticRow(string Check, bool? Passed, string Words)
{
    /// <summary>Name of the planned analysis to read beside the answer when the check did not hold; null for none.</summary>
    public string? Alternative { get; init; }
}

/// <summary>A table of text cells; each cell has a value to sort by.</summary>
/// <param name="Id">Id within the question.</param>
/// <param name="Caption">Caption.</param>
/// <param name="Columns">Column headings.</param>
/// <param name="Rows">Rows, each with one cell per column.</param>
/// <param name="Footnotes">Footnotes.</param>
public sealed record ResultTable(
    string Id, string Caption, ImmutableArray<string> Columns, ImmutableArray<TableRow> Rows, ImmutableArray<string> Footnotes);

/// <summary>A row of a table.</summary>
/// <param name="Cells">One cell per column.</param>
/// <param name="Indent">0 for a line of its own, 1 for a level below the line above.</param>
public sealed record TableRow(ImmutableArray<TableCell> Cells, int Indent);

/// <summary>A cell.</summary>
/// <param name="Text">What it says.</param>
/// <param name="Sort">Number to sort by; null sorts by text.</param>
public sealed record TableCell(string Text, double? Sort);

/// <summary>A curve of the share without an event, one group, as steps.</summary>
/// <param name="Group">Group in words; empty where there is one group only.</param>
/// <param name="TimeLabel">Label of the time axis with its unit.</param>
/// <param name="Times">Times of the steps in that unit, from 0, increasing.</param>
/// <param name="Share">Share without an event from that time on, 0 to 1.</param>
/// <param name="Lower">Lower end of the pointwise 95% interval.</param>
/// <param name="Upper">Upper end.</param>
/// <param name="CensorTimes">Times at which follow-up ended without an event.</param>
/// <param name="AtRiskTimes">Times of the number-at-risk table.</param>
/// <param name="AtRisk">Numbers at risk at those times.</param>
/// <param name="EventsSoFar">Events up to those times.</param>
/// <param name="Method">How the interval was made, in words.</param>
public sealed record EventFreeCurve(
    string Group, string TimeLabel,
    ImmutableArray<double> Times, ImmutableArray<double> Share, ImmutableArray<double> Lower, ImmutableArray<double> Upper,
    ImmutableArray<double> CensorTimes, ImmutableArray<double> AtRiskTimes, ImmutableArray<int> AtRisk,
    ImmutableArray<int> EventsSoFar, string Method);

/// <summary>Points of outcome against one exposure, with the adjusted line at the mean of the other terms.</summary>
/// <param name="Exposure">Measure id of the exposure.</param>
/// <param name="XLabel">Label with unit.</param>
/// <param name="YLabel">Label with unit.</param>
/// <param name="X">Exposure of each row.</param>
/// <param name="Y">Outcome of each row.</param>
/// <param name="Side">Side of each row (0 or 1), or empty where there are no sides.</param>
/// <param name="LineX">Points of the line.</param>
/// <param name="LineY">Fitted mean.</param>
/// <param name="BandLower">Lower end of the 95% band of the mean.</param>
/// <param name="BandUpper">Upper end.</param>
public sealed record FitScatter(
    string Exposure, string XLabel, string YLabel,
    ImmutableArray<double> X, ImmutableArray<double> Y, ImmutableArray<int> Side,
    ImmutableArray<double> LineX, ImmutableArray<double> LineY,
    ImmutableArray<double> BandLower, ImmutableArray<double> BandUpper);
