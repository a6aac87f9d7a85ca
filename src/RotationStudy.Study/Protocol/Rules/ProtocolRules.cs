using RotationStudy.Study.Protocol.Reading;

namespace RotationStudy.Study.Protocol.Rules;

/// <summary>What must hold across a protocol beyond the shape of each file: names name something, levels and units fit.</summary>
internal static class ProtocolRules
{
    internal static void Check(StudyProtocol protocol, ReadingContext reading)
    {
        RuleContext context = new(protocol, reading);
        StudyRules.Check(context);
        TableRules.Check(context);
        HipGateRules.Check(context);
        CheckRules.Check(context);
        MappingRules.Check(context);
        MeasureRules.Check(context);
        QuestionRules.Check(context);
        ChoiceRules.Check(context);
        SiteRules.Check(context);
        SizePlanRules.Check(context);
        PredictionRules.Check(context);
        FigureRules.Check(context);
    }
}
