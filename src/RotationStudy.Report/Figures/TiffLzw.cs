namespace RotationStudy.Report.Figures;

/// <summary>LZW as TIFF 6.0, section 13, describes it: codes of 9 to 12 bits, highest bit first, the table cleared when it is full.</summary>
internal sealed class TiffLzw
{
    private const int Clear = 256, End = 257, First = 258, LastCode = 4093;

    /// <summary>For a string and the byte that follows it, the code of both; 0 where there is none yet (no string has that code).</summary>
    private readonly ushort[] _longer = new ushort[4096 * 256];
    private readonly List<byte> _packed = [];
    private int _next = First, _width = 9, _current = -1, _bits, _count;

    internal TiffLzw() => Put(Clear);

    internal void Write(ReadOnlySpan<byte> bytes)
    {
        foreach (byte b in bytes)
        {
            if (_current < 0)
            {
                _current = b;
                continue;
            }
            ref ushort longer = ref _longer[(_current << 8) | b];
            if (longer != 0)
            {
                _current = longer;
                continue;
            }
            Put(_current);
            longer = (ushort)_next++;
            _current = b;
            Grow();
        }
    }

    /// <summary>All that was packed.</summary>
    internal byte[] Finish()
    {
        if (_current >= 0)
        {
            Put(_current);
            _next++;
            Grow();
        }
        Put(End);
        if (_count > 0)
            _packed.Add((byte)(_bits << (8 - _count)));
        return [.. _packed];
    }

    /// <summary>Codes become longer as soon as entry 511, 1023 or 2047 is in the table; readers are one entry behind.</summary>
    private void Grow()
    {
        if (_next > LastCode)
        {
            Put(Clear);
            Array.Clear(_longer);
            (_next, _width) = (First, 9);
        }
        else if (_next is 512 or 1024 or 2048)
        {
            _width++;
        }
    }

    private void Put(int code)
    {
        _bits = (_bits << _width) | code;
        _count += _width;
        while (_count >= 8)
        {
            _count -= 8;
            _packed.Add((byte)(_bits >> _count));
        }
        _bits &= (1 << _count) - 1;
    }
}
