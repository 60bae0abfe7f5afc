import type { ExerciseKind } from '../exercises/kind.ts';
import type { Grade } from '../grading/types.ts';
import { lookAtGauge } from './gauge.ts';
import { samplesOf, stepGauged } from './step.ts';
import type {
  GaugeAction,
  GaugedBench,
  GaugeSaid,
  GaugeSample,
  GaugeState,
  GaugeView,
  Work,
} from './types.ts';

/** What the student perceives of one action: what is said, the dial all the way through, and how it stands now. */
export interface GaugeSeen<View> {
  readonly said: readonly GaugeSaid[];
  readonly samples: readonly GaugeSample[];
  readonly now: View;
}

interface Parts<D, B extends GaugedBench, S extends GaugeState, A, View, Brief, Sheet> {
  readonly work: Work<B, S, A>;
  readonly generate: (definition: D, seed: string | number) => B;
  readonly start: (bench: B) => S;
  /** What is seen of the work itself, besides the gauge. */
  readonly see: (bench: B, state: S, gauge: GaugeView) => View;
  readonly brief: (bench: B) => Brief;
  readonly grade: (bench: B, actions: readonly (A | GaugeAction)[], sheet: Sheet) => Grade;
}

/** A kind of exercise from its own work and what every job with an indicator on a stand shares. */
export function gaugedKind<
  D,
  B extends GaugedBench,
  S extends GaugeState,
  A extends { readonly type: string },
  View,
  Brief,
  Sheet,
>({
  work,
  generate,
  start,
  see,
  brief,
  grade,
}: Parts<D, B, S, A, View, Brief, Sheet>): ExerciseKind<
  D,
  B,
  S,
  A | GaugeAction,
  GaugeSeen<View>,
  View,
  Brief,
  Sheet
> {
  const look = (bench: B, state: S) => see(bench, state, lookAtGauge(work, bench, state));
  return {
    generate,
    start,
    look,
    brief,
    grade,
    act: (bench, before, action) => {
      const step = stepGauged(work, bench, before, action);
      const samples = samplesOf(bench, step, work.turnedDeg(step.state) !== null);
      return { state: step.state, seen: { said: step.said, samples, now: look(bench, step.state) } };
    },
  };
}
