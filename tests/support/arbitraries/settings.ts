/** Laws are tried on the same cases every time: a failure can be looked at again, and a pass means the same on every machine. */
export const LAW = { seed: 20260915, numRuns: 60 } as const;

/** For laws that bar an engine right round several times. */
export const SLOW_LAW = { seed: LAW.seed, numRuns: 20 } as const;
