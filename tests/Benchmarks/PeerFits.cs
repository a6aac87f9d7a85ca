namespace RotationStudy.Benchmarks;

/// <summary>The fits that are compared with other libraries; each family keeps its own file and adds one line here.</summary>
internal static class PeerFits
{
    internal static IReadOnlyList<PeerFit> All { get; } =
    [
        .. LinearPeerFits.All,
        .. GeneralizedLinearPeerFits.All,
        .. MixedPeerFits.All,
        .. SurvivalPeerFits.All,
        .. AgreementAndResamplingPeerFits.All,
    ];
}
