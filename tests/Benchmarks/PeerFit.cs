
namespace RotationStudy.Benchmarks;

/// <summary>One fit of the comparison with other libraries.</summary>
/// <param name="Name">Name in peers/peer_N.json (R), such as "logit_cluster".</param>
/// <param name="PythonName">Name in peers/py_N.json (statsmodels); null where it was not run.</param>
/// <param name="Prepare">Builds the design from the cohort (not timed) and returns the fit (timed).</param>
internal sealed record PeerFit(string Name, string? PythonName, Func<PeerCohort, Action> Prepare);
