using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace RotationStudy.Simulation.Streams;

/// <summary>The random streams of one participant: one per use, named after it.</summary>
/// <remarks>
/// A stream's start is taken from the SHA-256 of (seed, name, participant), so a participant is the same whatever the size
/// of the cohort, the number of cores and the streams that other uses open: adding a use changes no other.
/// </remarks>
/// <param name="seed">Seed of the cohort.</param>
/// <param name="participant">Running number of the participant, from 1; 0 for what all share.</param>
internal sealed class NamedStreams(int seed, int participant)
{
    /// <summary>What all participants share, such as the constant error of a rater.</summary>
    internal static NamedStreams Shared(int seed) => new(seed, 0);

    /// <summary>Opens the stream of that name at its start.</summary>
    internal RandomDraws Open(string name)
    {
        Span<byte> text = stackalloc byte[128];
        int length = Encoding.UTF8.GetBytes(FormattableString.Invariant($"{seed}/{name}/{participant}"), text);
        Span<byte> hash = stackalloc byte[SHA256.HashSizeInBytes];
        SHA256.HashData(text[..length], hash);
        return new RandomDraws(BinaryPrimitives.ReadInt32LittleEndian(hash));
    }
}
