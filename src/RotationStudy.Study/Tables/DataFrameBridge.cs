using Microsoft.Data.Analysis;
using RotationStudy.Study.Protocol;

namespace RotationStudy.Study.Tables;

/// <summary>Hands an analysis table to notebooks and explorers as a data frame: the only place where one is made.</summary>
/// <remarks>
/// Grouping and averaging stay out of the frame's own hands: its grouped means divide by all rows, missing ones included.
/// The tables handed over are complete, so nothing is lost, but a frame that is joined or extended may gain gaps.
/// </remarks>
public static class DataFrameBridge
{
    /// <summary>One column for each part of the key, then one per measure; coded measures as text.</summary>
    /// <param name="table">A complete table.</param>
    public static DataFrame ToDataFrame(AnalysisTable table)
    {
        DataFrame frame = new(new StringDataFrameColumn("participant", table.Keys.Select(k => table.StudyKeys.Participants[k.Participant])));
        if (table.Level.HasSides())
            frame.Columns.Add(new StringDataFrameColumn("side", table.Keys.Select(k => table.StudyKeys.Sides[k.Side])));
        if (table.Level.HasOccasions())
            frame.Columns.Add(new StringDataFrameColumn("occasion", table.Keys.Select(k => table.StudyKeys.Occasions[k.Occasion])));
        foreach (TableColumn column in table.Columns)
        {
            string name = column.Measure.Definition.Id;
            frame.Columns.Add(column.Measure.IsCoded
                ? new StringDataFrameColumn(name, column.Values.Select(v => column.Measure.Codes[(int)v].Code))
                : new DoubleDataFrameColumn(name, column.Values));
        }
        return frame;
    }
}
