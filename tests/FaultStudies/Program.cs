using System.Globalization;
using RotationStudy.FaultStudies;
using RotationStudy.FaultStudies.Readers;

// dotnet run -c Release --project tests/FaultStudies -- <repository folder> : writes docs/planted-faults.md
// dotnet run -c Release --project tests/FaultStudies -- readers <repository folder> [inputs] [first] : damaged files of every format; from the first on, writes docs/reader-fuzz.md
return args is ["readers", string repository, .. string[] numbers]
    ? ReaderFuzzStudy.Run(
        repository,
        numbers.Length > 1 ? int.Parse(numbers[1], CultureInfo.InvariantCulture) : 0,
        numbers.Length > 0 ? int.Parse(numbers[0], CultureInfo.InvariantCulture) : 1_000_000)
    : PlantedFaultStudy.Run(args.Length > 0 ? args[0] : ".");
