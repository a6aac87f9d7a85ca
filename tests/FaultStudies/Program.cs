using RotationStudy.FaultStudies;

// dotnet run -c Release --project tests/FaultStudies -- <repository folder> : writes docs/planted-faults.md
return PlantedFaultStudy.Run(args.Length > 0 ? args[0] : ".");
