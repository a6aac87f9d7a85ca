namespace RotationStudy.Study.Archive;

/// <summary>One column of a file of an archive: whole numbers, numbers or text, each of them possibly absent.</summary>
/// <param name="Name">Name in the file.</param>
internal abstract record ArchiveColumn(string Name)
{
    internal abstract int Rows { get; }

    /// <summary>The same column with these rows only, in this order.</summary>
    internal abstract ArchiveColumn Pick(int[] rows);
}

/// <summary>A column of whole numbers.</summary>
internal sealed record WholeNumbers(string Name, long?[] Values) : ArchiveColumn(Name)
{
    internal override int Rows => Values.Length;

    internal override ArchiveColumn Pick(int[] rows) => new WholeNumbers(Name, Array.ConvertAll(rows, r => Values[r]));
}

/// <summary>A column of numbers.</summary>
internal sealed record Numbers(string Name, double?[] Values) : ArchiveColumn(Name)
{
    internal override int Rows => Values.Length;

    internal override ArchiveColumn Pick(int[] rows) => new Numbers(Name, Array.ConvertAll(rows, r => Values[r]));
}

/// <summary>A column of text.</summary>
internal sealed record Texts(string Name, string?[] Values) : ArchiveColumn(Name)
{
    internal override int Rows => Values.Length;

    internal override ArchiveColumn Pick(int[] rows) => new Texts(Name, Array.ConvertAll(rows, r => Values[r]));
}
