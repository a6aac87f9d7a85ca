using RotationStudy.Simulation.Course;

namespace RotationStudy.Simulation.Exports;

/// <summary>What a cohort turned out to hold, counted from the truth while it was written.</summary>
public sealed record CohortCounts
{
    /// <summary>Participants.</summary>
    public int Participants { get; private set; }

    /// <summary>Girls and women.</summary>
    public int Females { get; private set; }

    /// <summary>Visits that took place.</summary>
    public int Visits { get; private set; }

    /// <summary>Rows of the knee examinations.</summary>
    public int KneeExams { get; private set; }

    /// <summary>Person-years from enrolment to the last contact.</summary>
    public double PersonYears { get; private set; }

    /// <summary>Knees with instability before enrolment.</summary>
    public int KneesWithPriorInstability { get; private set; }

    /// <summary>Dislocations within the follow-up.</summary>
    public int Dislocations { get; private set; }

    /// <summary>Knees with at least one of them.</summary>
    public int KneesEverDislocated { get; private set; }

    /// <summary>Knees operated on.</summary>
    public int KneesOperated { get; private set; }

    /// <summary>Knees with prior instability that were watched for two years or dislocated within them.</summary>
    public int PriorKneesWatchedTwoYears { get; private set; }

    /// <summary>Of those, knees that dislocated within two years.</summary>
    public int PriorKneesDislocatedWithinTwoYears { get; private set; }

    /// <summary>Stable knees of persons whose other knee was unstable before, watched for two years or dislocated within them.</summary>
    public int ContralateralKneesWatchedTwoYears { get; private set; }

    /// <summary>Of those, knees that dislocated within two years.</summary>
    public int ContralateralKneesDislocatedWithinTwoYears { get; private set; }

    /// <summary>Knees whose events were collected from a later day than enrolment on.</summary>
    public int KneesEnteredLate { get; private set; }

    /// <summary>Dislocations before the day of entry of their knee: they happened and nobody reported them.</summary>
    public int DislocationsBeforeEntry { get; private set; }

    /// <summary>Dislocations reported a second time.</summary>
    public int SecondReports { get; private set; }

    /// <summary>Days in diaries.</summary>
    public int DiaryDays { get; private set; }

    /// <summary>Participants with a diary.</summary>
    public int Diaries { get; private set; }

    /// <summary>Knees with tracking curves.</summary>
    public int KneesTracked { get; private set; }

    /// <summary>Forms on pain out of proportion.</summary>
    public int PainSignForms { get; private set; }

    /// <summary>Participants enrolled by site, in order of the sites' codes.</summary>
    public SortedDictionary<string, int> EnrolledBySite { get; } = new(StringComparer.Ordinal);

    internal void Add(SimulatedParticipant p)
    {
        EnrolledBySite[p.Person.Site.Site] = EnrolledBySite.GetValueOrDefault(p.Person.Site.Site) + 1;
        DiaryDays += p.Diary.Length;
        Diaries += p.Diary.Length > 0 ? 1 : 0;
        KneesTracked += p.Curves.Length > 0 ? p.Knees.Length : 0;
        PainSignForms += p.PainSigns.Length;
        Participants++;
        Females += p.Person.Female ? 1 : 0;
        Visits += p.Visits.Length;
        KneeExams += p.KneeExams.Length;
        PersonYears += p.FollowUp.LastContactDay / 365.25;
        foreach (SimulatedKnee knee in p.Knees)
            Add(p, knee);
    }

    private void Add(SimulatedParticipant p, SimulatedKnee knee)
    {
        const int twoYears = 731;
        int[] days = [.. knee.Events.Where(e => e.Kind == "dislocation").Select(e => e.Day)];
        Dislocations += days.Length;
        KneesEnteredLate += knee.EntryDay > 0 ? 1 : 0;
        DislocationsBeforeEntry += days.Count(d => d <= knee.EntryDay);
        SecondReports += knee.Reports.Count(r => r.Kind == "dislocation") - days.Count(d => d > knee.EntryDay);
        KneesEverDislocated += days.Length > 0 ? 1 : 0;
        KneesOperated += knee.Events.Any(e => e.Kind == "operation") ? 1 : 0;
        KneesWithPriorInstability += knee.PriorInstability ? 1 : 0;
        bool within = days.Length > 0 && days[0] <= twoYears;
        if (!within && p.FollowUp.LastContactDay < twoYears)
            return;
        if (knee.PriorInstability)
        {
            PriorKneesWatchedTwoYears++;
            PriorKneesDislocatedWithinTwoYears += within ? 1 : 0;
        }
        else if (p.Person.PriorInstability)
        {
            ContralateralKneesWatchedTwoYears++;
            ContralateralKneesDislocatedWithinTwoYears += within ? 1 : 0;
        }
    }
}
