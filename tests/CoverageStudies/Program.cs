using RotationStudy.CoverageStudies;

// dotnet run -c Release --project tests/CoverageStudies -- [family ...] [--replicates N] : writes docs/coverage/<family>.md
return CoverageRunner.Run(args);
