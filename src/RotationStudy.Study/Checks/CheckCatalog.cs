namespace RotationStudy.Study.Checks;

/// <summary>The rules of ingest in words.</summary>
public static class CheckCatalog
{
    /// <summary>What a rule looks at, in words; the id itself where the catalogue has none.</summary>
    /// <param name="rule">Id of the rule.</param>
    public static string Explain(string rule) => rule;
}
