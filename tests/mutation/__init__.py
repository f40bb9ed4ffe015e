"""Would the tests notice? Deliberate faults in the core, and the tests nearest to each run against it."""
