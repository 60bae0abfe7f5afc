import type { GaugeMoment, GaugeState, GaugeStep } from './types.ts';

/** One line of the log, with how the bench stood before it. */
export interface GaugeEntry<S, A> {
  readonly at: number;
  readonly action: A;
  readonly before: S;
  readonly step: GaugeStep<S>;
}

/** One set-up: from the indicator being set down to its being taken off or set down anew. */
export interface GaugeRun<S, A> {
  readonly setUp: number;
  readonly at: number;
  readonly entries: readonly GaugeEntry<S, A>[];
}

/** What was done under one zero: from a zero of the bezel to the next, or to the end of the set-up. */
export interface Zeroed<S, A> {
  readonly run: GaugeRun<S, A>;
  readonly at: number;
  /** The state at the zero. */
  readonly state: S;
  readonly entries: readonly GaugeEntry<S, A>[];
}

/** The whole log, folded once. What could not be done left the bench as it was, and is left out. */
export function foldLog<S extends GaugeState, A>(
  start: S,
  actions: readonly A[],
  step: (state: S, action: A) => GaugeStep<S>,
): GaugeEntry<S, A>[] {
  let state = start;
  const entries = actions.map((action, at) => {
    const before = state;
    const done = step(before, action);
    state = done.state;
    return { at, action, before, step: done };
  });
  return entries.filter((entry) => !entry.step.said.some(({ code }) => code === 'cannot'));
}

/** The set-ups in the log, in order. */
export function runsOf<S extends GaugeState, A>(entries: readonly GaugeEntry<S, A>[]): GaugeRun<S, A>[] {
  const bySetUp = new Map<number, GaugeEntry<S, A>[]>();
  for (const entry of entries) {
    const { state } = entry.step;
    if (state.stand === null) continue;
    const sofar = bySetUp.get(state.setUps);
    if (sofar === undefined) bySetUp.set(state.setUps, [entry]);
    else sofar.push(entry);
  }
  return [...bySetUp].map(([setUp, own]) => ({ setUp, at: own[0]?.at ?? 0, entries: own }));
}

/** The stretches of a set-up that stand under one zero each. */
export function zeroedIn<S extends GaugeState, A>(run: GaugeRun<S, A>): Zeroed<S, A>[] {
  const found: { run: GaugeRun<S, A>; at: number; state: S; entries: GaugeEntry<S, A>[] }[] = [];
  for (const entry of run.entries) {
    if (entry.step.said.some(({ code }) => code === 'bezel-at-zero'))
      found.push({ run, at: entry.at, state: entry.step.state, entries: [] });
    else if (entry.step.state.zeroed) found.at(-1)?.entries.push(entry);
  }
  return found;
}

/** Where the pointer came to rest after an entry, in graduations. */
export function restOf<S, A>({ step }: GaugeEntry<S, A>): GaugeMoment | undefined {
  return step.moments.at(-1);
}

/** Largest less smallest of some readings, and where; null for none. */
export function spanOf(values: readonly number[]): number | null {
  return values.length === 0 ? null : Math.max(...values) - Math.min(...values);
}
