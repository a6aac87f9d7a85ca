using System.Collections.Immutable;
using PdfSharp.UniversalAccessibility;
using RotationStudy.Report.Figures;

namespace RotationStudy.Report.Documents.Pdf;

/// <summary>Sets a table: caption above, head repeated on every page, rows kept whole where a page can hold them.</summary>
internal sealed class PdfTable
{
    private const float Size = 8, SmallSize = 7, CaptionSize = 8.5f, Step = 1.3f, RowPad = 3, KeepWhole = 0.4f;

    private readonly PdfFlow _flow;
    private readonly PaperTable _table;
    private readonly float _size;
    private readonly ImmutableArray<float> _widths;
    private readonly ImmutableArray<ImmutableArray<string>> _head;

    private PdfTable(PdfFlow flow, PaperTable table)
    {
        _flow = flow;
        _table = table;
        _size = TableWidths.Fits(table, Size, PdfFlow.Width) ? Size : SmallSize;
        _widths = TableWidths.Of(table, _size, PdfFlow.Width);
        _head = [.. table.Columns.Select((c, i) => Lines(c.Title, i, bold: true, indent: 0))];
    }

    internal static void Set(PdfFlow flow, PaperTable table)
    {
        if (table.Columns.IsEmpty)
            return;
        new PdfTable(flow, table).Set();
    }

    private void Set()
    {
        _flow.Space(9);
        ImmutableArray<ImmutableArray<PdfPiece>> caption = PdfWords.Break([new PaperRun(_table.Caption)], CaptionSize, PdfFlow.Width, allBold: true);
        float first = _table.Rows.IsEmpty ? 0 : Math.Min(Height(CellsOf(_table.Rows[0], false)), 60);
        _flow.Room(caption.Length * CaptionSize * Step + Height(_head) + first + 6);
        _flow.Tagged(PdfBlockLevelElementTag.Paragraph, () =>
        {
            foreach (ImmutableArray<PdfPiece> line in caption)
                PdfParagraph.Line(_flow, line, PdfFlow.Left, CaptionSize, Step);
        });
        _flow.Y += 3;
        _flow.Tagged(PdfBlockLevelElementTag.Table, () =>
        {
            SetHead(repeated: false);
            for (int i = 0; i < _table.Rows.Length; i++)
                SetRow(_table.Rows[i], totals: _table.HasTotals && i == _table.Rows.Length - 1);
        });
        _flow.Space(6);
    }

    private void SetHead(bool repeated)
    {
        float height = Height(_head), bottom = _flow.Y + height - RowPad;
        if (repeated)
            SetCells(_head, 0, bold: true, bottomUp: true, (pen, text, x, y) => pen.Repeated(text, x, y, _size, bold: true));
        else
            _flow.Tagged(PdfBlockLevelElementTag.TableRow, () => SetCells(_head, 0, bold: true, bottomUp: true, null));
        _flow.Y += height;
        RuleAt(bottom + RowPad, 0.9f);
    }

    private void SetRow(PaperRow row, bool totals)
    {
        ImmutableArray<ImmutableArray<string>> cells = CellsOf(row, totals);
        float height = Height(cells), page = PdfFlow.Bottom - PdfFlow.Top;
        if (_flow.Y + height > PdfFlow.Bottom && (height < KeepWhole * page || PdfFlow.Bottom - _flow.Y < 5 * _size))
            NextPage();
        int done = 0, all = cells.Max(c => c.Length);
        if (totals)
            RuleAt(_flow.Y, 0.9f);
        while (done < all)
        {
            int fit = Math.Max(1, (int)((PdfFlow.Bottom - _flow.Y - 2 * RowPad) / (_size * Step)));
            ImmutableArray<ImmutableArray<string>> slice = [.. cells.Select(c => c.Skip(done).Take(fit).ToImmutableArray())];
            _flow.Tagged(PdfBlockLevelElementTag.TableRow, () => SetCells(slice, row.Indent ? _size : 0, totals, bottomUp: false, null));
            _flow.Y += Height(slice);
            RuleAt(_flow.Y, 0.4f);
            done += fit;
            if (done < all)
                NextPage();
        }
    }

    private void NextPage()
    {
        _flow.NextPage();
        SetHead(repeated: true);
    }

    /// <summary>Sets the cells of a row; the first of a row of data and all of the head are header cells.</summary>
    private void SetCells(ImmutableArray<ImmutableArray<string>> cells, float indent, bool bold, bool bottomUp, Action<PdfPen, string, float, float>? artifact)
    {
        float x = PdfFlow.Left, top = _flow.Y, height = Height(cells);
        for (int i = 0; i < cells.Length; i++)
        {
            int column = i;
            float left = x + (i == 0 ? indent : 0), right = x + _widths[i] - TableWidths.Gap;
            float y = top + (bottomUp ? height - RowPad - cells[i].Length * _size * Step : RowPad) + _size;
            void Cell()
            {
                float at = y;
                foreach (string line in cells[column])
                {
                    float lineX = _table.Columns[column].IsNumeric ? right - Lettering.Width(line, _size, bold) : left, lineY = at;
                    _flow.Draw(artifact is null ? pen => pen.Text(line, lineX, lineY, _size, bold) : pen => artifact(pen, line, lineX, lineY));
                    at += _size * Step;
                }
            }
            if (artifact is null)
                _flow.Tagged(bottomUp || i == 0 ? PdfBlockLevelElementTag.TableHeaderCell : PdfBlockLevelElementTag.TableDataCell, Cell);
            else
                Cell();
            x += _widths[i];
        }
    }

    private void RuleAt(float y, float width)
    {
        float right = PdfFlow.Left + _widths.Sum();
        _flow.Draw(pen => pen.Rule(PdfFlow.Left, y, right, y, width, width > 0.5f ? PdfInk.Ink : PdfInk.Rule));
    }

    private ImmutableArray<ImmutableArray<string>> CellsOf(PaperRow row, bool bold)
        => [.. row.Cells.Select((c, i) => Lines(c, i, bold, i == 0 && row.Indent ? _size : 0))];

    private ImmutableArray<string> Lines(string text, int column, bool bold, float indent)
        => Lettering.Wrap(text, _size, _widths[column] - TableWidths.Gap - indent + 0.05f, bold: bold);

    private float Height(ImmutableArray<ImmutableArray<string>> cells) => cells.Max(c => c.Length) * _size * Step + 2 * RowPad;
}
