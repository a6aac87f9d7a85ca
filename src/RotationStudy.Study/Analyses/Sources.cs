namespace RotationStudy.Study.Analyses;

/// <summary>Published sources of the methods, as the report cites them.</summary>
internal static class Sources
{
    internal const string Cox = "Cox DR. Regression models and life-tables. J R Stat Soc B 1972;34:187-220.";
    internal const string Efron = "Efron B. The efficiency of Cox's likelihood function for censored data. J Am Stat Assoc 1977;72:557-565.";
    internal const string RobustCox = "Lin DY, Wei LJ. The robust inference for the Cox proportional hazards model. J Am Stat Assoc 1989;84:1074-1078.";
    internal const string KaplanMeier = "Kaplan EL, Meier P. Nonparametric estimation from incomplete observations. J Am Stat Assoc 1958;53:457-481.";
    internal const string AndersenGill = "Andersen PK, Gill RD. Cox's regression model for counting processes. Ann Stat 1982;10:1100-1120.";
    internal const string LiangZeger = "Liang KY, Zeger SL. Longitudinal data analysis using generalized linear models. Biometrika 1986;73:13-22.";
    internal const string BellMcCaffrey = "Bell RM, McCaffrey DF. Bias reduction in standard errors for linear regression with multi-stage samples. Surv Methodol 2002;28:169-181.";
    internal const string Firth = "Firth D. Bias reduction of maximum likelihood estimates. Biometrika 1993;80:27-38.";
    internal const string HeinzeSchemper = "Heinze G, Schemper M. A solution to the problem of separation in logistic regression. Stat Med 2002;21:2409-2419.";
    internal const string NegativeBinomial = "Lawless JF. Negative binomial and mixed Poisson regression. Can J Stat 1987;15:209-225.";
    internal const string LairdWare = "Laird NM, Ware JH. Random-effects models for longitudinal data. Biometrics 1982;38:963-974.";
    internal const string Satterthwaite = "Satterthwaite FE. An approximate distribution of estimates of variance components. Biometrics Bull 1946;2:110-114.";
    internal const string GrambschTherneau = "Grambsch PM, Therneau TM. Proportional hazards tests and diagnostics based on weighted residuals. Biometrika 1994;81:515-526.";
    internal const string Holm = "Holm S. A simple sequentially rejective multiple test procedure. Scand J Stat 1979;6:65-70.";
    internal const string YangDalton = "Yang D, Dalton JE. A unified approach to measuring the effect size between two groups. SAS Global Forum 2012, paper 335.";
    internal const string ShroutFleiss = "Shrout PE, Fleiss JL. Intraclass correlations: uses in assessing rater reliability. Psychol Bull 1979;86:420-428.";
    internal const string McGrawWong = "McGraw KO, Wong SP. Forming inferences about some intraclass correlation coefficients. Psychol Methods 1996;1:30-46.";
    internal const string Weerahandi = "Weerahandi S. Generalized confidence intervals. J Am Stat Assoc 1993;88:899-905.";
    internal const string Weir = "Weir JP. Quantifying test-retest reliability using the intraclass correlation coefficient and the SEM. J Strength Cond Res 2005;19:231-240.";
    internal const string BlandAltmanRepeated = "Bland JM, Altman DG. Measuring agreement in method comparison studies. Stat Methods Med Res 1999;8:135-160.";
    internal const string ChangLinOgden = "Chang C, Lin X, Ogden RT. Simultaneous confidence bands for functional regression models. J Stat Plan Inference 2017;188:67-81.";
    internal const string TelschowSchwartzman = "Telschow FJE, Schwartzman A. Simultaneous confidence bands for functional data using the Gaussian kinematic formula. J Stat Plan Inference 2022;216:70-94.";
    internal const string WestfallYoung = "Westfall PH, Young SS. Resampling-based multiple testing. New York: Wiley; 1993.";
    internal const string Kadaba = "Kadaba MP, Ramakrishnan HK, Wootten ME, Gainey J, Gorton G, Cochran GVB. Repeatability of kinematic, kinetic, and electromyographic data in normal adult gait. J Orthop Res 1989;7:849-860.";
    internal const string RosnerSpiegelmanWillett = "Rosner B, Spiegelman D, Willett WC. Correction of logistic regression relative risk estimates and confidence intervals for measurement error: the case of multiple covariates measured with error. Am J Epidemiol 1990;132:734-745.";
    internal const string CarrollMeasurementError = "Carroll RJ, Ruppert D, Stefanski LA, Crainiceanu CM. Measurement error in nonlinear models. 2nd ed. Boca Raton: Chapman & Hall; 2006.";
    internal const string McCullagh = "McCullagh P. Regression models for ordinal data. J R Stat Soc B 1980;42:109-142.";
    internal const string BreslowDay = "Breslow NE, Day NE. Statistical methods in cancer research, volume I: the analysis of case-control studies. Lyon: IARC; 1980.";
    internal const string FineGray = "Fine JP, Gray RJ. A proportional hazards model for the subdistribution of a competing risk. J Am Stat Assoc 1999;94:496-509.";
    internal const string AalenJohansen = "Aalen OO, Johansen S. An empirical transition matrix for non-homogeneous Markov chains based on censored observations. Scand J Stat 1978;5:141-150.";
    internal const string Gray = "Gray RJ. A class of K-sample tests for comparing the cumulative incidence of a competing risk. Ann Stat 1988;16:1141-1154.";
    internal const string EValue = "VanderWeele TJ, Ding P. Sensitivity analysis in observational research: introducing the E-value. Ann Intern Med 2017;167:268-274.";
    internal const string GhoshLin = "Ghosh D, Lin DY. Marginal regression models for recurrent and terminal events. Stat Sin 2002;12:663-688.";
    internal const string GhoshLinMean = "Ghosh D, Lin DY. Nonparametric analysis of recurrent events and death. Biometrics 2000;56:554-562.";
    internal const string LinWeiYangYing = "Lin DY, Wei LJ, Yang I, Ying Z. Semiparametric regression for the mean and rate functions of recurrent events. J R Stat Soc B 2000;62:711-730.";
    internal const string Rubin = "Rubin DB. Multiple imputation for nonresponse in surveys. New York: Wiley; 1987.";
}
