// The drawing library has died, rarely, while several threads drew at once; the program draws on one thread, and so do its tests.
[assembly: Xunit.CollectionBehavior(DisableTestParallelization = true)]
