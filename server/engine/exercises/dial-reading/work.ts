import { positiveRemainder } from '../../angles.ts';
import { rounded } from '../../bench-parts/gauge.ts';
import type { GaugeCannot, GaugeSaid, GaugeSample } from '../../bench-parts/types.ts';
import { graduationsPerTurn } from '../../dial/dial.ts';
import { readDial } from '../../dial/read-dial.ts';
import { toMm } from '../../units.ts';
import type {
  DialReadingAction,
  DialReadingBench,
  DialReadingState,
  DialReadingView,
  Drill,
} from './types.ts';

/** Turns of the pointer a second that an eye may be asked to follow. Common practice, no source. */
const FASTEST = 5;
/** In turns of the pointer: near enough that turns can be counted. */
const SAMPLES_APART = 0.2;

export interface DialReadingStep {
  readonly state: DialReadingState;
  readonly said: readonly GaugeSaid[];
  /** Travel from the zero, in the dial's unit, at each sample. */
  readonly travels: readonly number[];
}

export function startDialReading({ drills }: DialReadingBench): DialReadingState {
  const none = drills.map(() => false);
  return { actions: 0, drill: 1, made: none, watched: none };
}

/** One action; whatever is sent, however odd, is a finding. What cannot be done leaves the drills as they were, and says why. */
export function stepDialReading(
  bench: DialReadingBench,
  before: DialReadingState,
  action: DialReadingAction,
): DialReadingStep {
  const state = { ...before, actions: before.actions + 1 };
  const cannot = (why: GaugeCannot) => ({ state, said: [{ code: 'cannot', why } as const], travels: [] });
  if (typeof action !== 'object' || action === null) return cannot('unknown-action');
  switch (action.type) {
    case 'go-to':
      return isDrill(bench, action.drill)
        ? { state: { ...state, drill: action.drill }, said: [{ code: 'drill-taken-up' }], travels: [] }
        : cannot('no-such-place');
    case 'watch':
    case 'watch-back':
      if (!Number.isFinite(action.speed) || action.speed <= 0) return cannot('not-a-number');
      if (action.speed > FASTEST) return cannot('too-far');
      return run(bench, state, action.type === 'watch') ?? cannot('pointer-is-there');
    case 'note':
      return isDrill(bench, action.item) && typeof action.box === 'string'
        ? { state, said: [{ code: 'noted' }], travels: [] }
        : cannot('unknown-action');
    default:
      return cannot('unknown-action');
  }
}

export function isDrill({ drills }: DialReadingBench, drill: number): boolean {
  return Number.isInteger(drill) && drill >= 1 && drill <= drills.length;
}

/** The pointer runs its movement, or back to its zero; null where it stands there already. */
function run(bench: DialReadingBench, state: DialReadingState, out: boolean): DialReadingStep | null {
  const index = state.drill - 1;
  const drill = bench.drills[index];
  if (drill === undefined || state.made[index] === out) return null;
  const set = (flags: readonly boolean[], flag: boolean) =>
    flags.map((one, at) => (at === index ? flag : one));
  const parts = Math.ceil(Math.abs(drill.movement) / drill.dial.rangePerTurn / SAMPLES_APART);
  const shares = Array.from({ length: parts + 1 }, (_, part) => part / parts);
  return {
    state: { ...state, made: set(state.made, out), watched: set(state.watched, true) },
    said: [{ code: out ? 'pointer-ran' : 'pointer-ran-back' }],
    travels: shares.map((share) => drill.movement * (out ? share : 1 - share)),
  };
}

/** What the eye gets of a dial: the pointer to a hundredth of a graduation, the small hand and the plunger more coarsely. */
export function sampleAt({ dial }: Drill, travel: number): GaugeSample {
  const { pointer, counter } = readDial(dial, travel);
  return {
    pointer: rounded(pointer, 2) % graduationsPerTurn(dial),
    counter: counter === null ? null : rounded(positiveRemainder(counter, 10), 3) % 10,
    plungerMm: Math.round(toMm(dial.plungerAtZero + travel, dial.unit) * 5) / 5,
    workDeg: null,
  };
}

export function lookAtDrill({ drills }: DialReadingBench, state: DialReadingState): DialReadingView {
  const index = state.drill - 1;
  const drill = drills[index];
  if (drill === undefined) throw new RangeError('A bench has a drill for each of its states.');
  const made = state.made[index] === true;
  return {
    kind: 'dial-reading',
    drill: state.drill,
    indicator: 'on',
    made,
    watched: state.watched[index] === true,
    sample: sampleAt(drill, made ? drill.movement : 0),
  };
}
