namespace RotationStudy.FaultStudies.Readers;

/// <summary>What became of the inputs of one format.</summary>
/// <param name="name">Name of the format.</param>
internal sealed class FuzzTally(string name)
{
    private readonly Lock gate = new();

    internal string Name => name;

    internal int Inputs { get; private set; }

    internal int Read { get; private set; }

    internal int Failures { get; private set; }

    internal long MostAllocated { get; private set; }

    internal void Add(bool read, bool failed, long allocated)
    {
        lock (gate)
        {
            Inputs++;
            Read += read && !failed ? 1 : 0;
            Failures += failed ? 1 : 0;
            MostAllocated = Math.Max(MostAllocated, allocated);
        }
    }
}
