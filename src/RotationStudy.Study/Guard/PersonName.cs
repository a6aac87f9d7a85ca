using System.Collections.Frozen;
using System.Text.RegularExpressions;

namespace RotationStudy.Study.Guard;

/// <summary>Names of people: a title, two or three capitalised words, surname and comma, or a common given name.</summary>
/// <remarks>The given names are common in Europe and America (recalled, no source); no list is complete, so a name alone in a cell may pass.</remarks>
internal static partial class PersonName
{
    private static readonly FrozenSet<string> Given = (
        "adam,adrian,agnes,alejandro,alessandro,alexander,alexandra,alice,amelie,amelia,andrea,andreas,andrew,angela,anna,anne,annika,anthony,antonio,"
        + "arthur,astrid,barbara,beatrice,benjamin,birgit,brandon,brian,bruno,camille,carla,carlos,carmen,caroline,catherine,cecilia,charles,charlotte,"
        + "christian,christina,christine,christopher,claire,claudia,clara,daniel,daniela,david,deborah,diego,dominik,dorothy,edward,elena,elias,elisabeth,"
        + "elizabeth,emily,emma,eric,erik,ethan,fabian,fatima,felix,fernando,florian,francesca,francesco,frank,franziska,frederik,friedrich,gabriel,"
        + "george,giulia,gustav,hannah,hanna,hans,heinrich,helen,helena,henrik,henry,ingrid,isabel,isabella,jacob,jakob,james,janet,jasmin,jean,jennifer,"
        + "jessica,joanna,johan,johanna,johannes,john,jonas,jonathan,jorge,joseph,joshua,juan,julia,julian,juliane,karen,karin,karl,katarina,katharina,"
        + "katherine,kevin,klaus,kristina,lars,laura,lauren,lena,leonie,linda,lisa,lorenzo,louis,louise,lucas,lucia,luisa,lukas,magdalena,manuel,marco,"
        + "margaret,maria,marie,mario,martha,martin,martina,mary,mateo,matthew,matthias,megan,melanie,michael,michelle,miguel,mohammed,muhammad,natalie,"
        + "nathan,nicholas,nicole,nils,olivia,oliver,pablo,patricia,patrick,paula,pedro,peter,petra,philipp,pierre,rachel,rebecca,richard,robert,roberto,"
        + "samantha,samuel,sandra,sarah,sebastian,sergio,simon,sofia,sophia,sophie,stefan,stefanie,stephanie,stephen,steven,susan,susanne,sven,teresa,"
        + "theresa,thomas,timothy,tobias,ursula,valentina,valeria,vanessa,victoria,vincent,walter,william,wolfgang,xavier,yasmin,zachary").Split(',').ToFrozenSet(StringComparer.Ordinal);

    private static readonly FrozenSet<string> Ordinary = (
        "not,done,no,yes,unknown,missing,left,right,none,recorded,known,available,applicable,assessed,examined,pending,see,notes,other,very,mild,moderate,"
        + "severe,painful,restricted,free,site,month,months,visit,baseline,knee,hip,closed,open,follow,up,lost,study,end,grade,type,normal,small,large,unable,"
        + "both,male,female,data,value,too,high,low").Split(',').ToFrozenSet(StringComparer.Ordinal);

    internal static bool IsIn(string text)
    {
        if (Titled().IsMatch(text))
            return true;
        string[] words = [.. Word().Matches(text).Select(m => m.Value.ToLowerInvariant())];
        if (words.Any(Given.Contains))
            return true;
        return Capitals().IsMatch(text) && !words.Any(Ordinary.Contains);
    }

    [GeneratedRegex(@"\p{L}+", RegexOptions.CultureInvariant)]
    private static partial Regex Word();

    [GeneratedRegex(@"\b(Mr|Mrs|Ms|Miss|Dr|Prof|Herr|Frau|Mme|Mlle|Señor|Señora|Signora)\.? \p{Lu}", RegexOptions.CultureInvariant)]
    private static partial Regex Titled();

    [GeneratedRegex(@"^\p{Lu}[\p{Ll}'’]+(-\p{Lu}\p{Ll}+)?(, ?| )(\p{Lu}\.? )?((van|von|de|der|den|di|la|le) ){0,2}\p{Lu}(\p{Ll}+|\.)(-\p{Lu}\p{Ll}+)?$", RegexOptions.CultureInvariant)]
    private static partial Regex Capitals();
}
