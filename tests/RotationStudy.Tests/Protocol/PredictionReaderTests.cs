using RotationStudy.Study.Protocol;
using RotationStudy.Tests.Cli;

namespace RotationStudy.Tests.Protocol;

/// <summary>Faults of prediction.yaml and sites.yaml are found with their place, all at once.</summary>
public sealed class PredictionReaderTests : Workspace
{
    [Theory]
    [InlineData("prediction.yaml", "measure: laxity_nine, per", "measure: laxity_ten, per", "No measure is called 'laxity_ten'")]
    [InlineData("prediction.yaml", "outcome: ever_dislocated", "outcome: age_years", "is no measure of yes and no")]
    [InlineData("prediction.yaml", "codes: [C] }", "codes: [X] }", "has no code 'X'")]
    [InlineData("prediction.yaml", "thresholds: [0.1, 0.15", "thresholds: [0.15, 0.1", "Thresholds must rise")]
    [InlineData("prediction.yaml", "resamples: 200", "resamples: 2", "give no steady correction")]
    [InlineData("prediction.yaml", "penalty: ridge", "penalty: rigde", "is no valid 'penalty'")]
    [InlineData("prediction.yaml", "points: 3, risk: 0.862", "points: 4, risk: 0.862", "never add up to 4 points")]
    [InlineData("prediction.yaml", "risk: 0.312", "risk: 31.2", "A risk lies between 0 and 1")]
    [InlineData("prediction.yaml", "at_least: 1.15, label", "at_least: 1.15, below: 3, label", "has 2 rules")]
    [InlineData("prediction.yaml", "id: S1", "id: Q1", "is declared twice")]
    [InlineData("prediction.yaml", "share: 0.35", "share: 35", "A share lies between 0 and 1")]
    [InlineData("sites.yaml", "question: Q4", "question: Q44", "No question is called 'Q44'")]
    [InlineData("sites.yaml", "question: Q4", "question: Q1", "estimates no effect of an exposure")]
    [InlineData("sites.yaml", "measure: site", "measure: age_years", "does not name a site for each participant")]
    [InlineData("sites.yaml", "smallest_group: 5", "smallest_group: 1", "shows what single persons have")]
    [InlineData("sites.yaml", "smallest_group", "smalest_group", "Unknown key 'smalest_group'")]
    public void A_fault_is_named_at_its_line(string file, string from, string to, string message)
    {
        string path = Path.Combine(CopyProtocol(), file);
        string text = File.ReadAllText(path);
        Assert.Contains(from, text);
        int at = text.IndexOf(from, StringComparison.Ordinal);
        File.WriteAllText(path, string.Concat(text.AsSpan(0, at), to, text.AsSpan(at + from.Length)));
        ProtocolError error = Assert.Throws<ProtocolError>(() => ProtocolReader.Read(At("protocol")));
        Assert.Contains(error.Faults, f => f.What.Contains(message, StringComparison.Ordinal) && f.Place.File == file);
    }
}
