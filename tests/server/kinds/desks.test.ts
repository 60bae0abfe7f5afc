import { describe, expect, it } from 'vitest';
import {
  type ActionOf,
  act,
  type BenchOf,
  brief,
  gradeAttempt,
  type KindName,
  lookAt,
  type SheetOf,
  startBench,
} from '../../../server/engine/index.ts';
import { boxesOf, type Control, DESKS, deskOf, readBoxes } from '../../../server/kinds/index.ts';
import { observeBore } from '../../support/bore-observer.ts';
import { typedFrom } from '../../support/desk-typing.ts';
import { observeDialReading } from '../../support/dial-reader.ts';
import { observeFault } from '../../support/fault-observer.ts';
import {
  observeBacklash,
  observeEndPlay,
  observeLiners,
  observeRunOut,
} from '../../support/gauged-observers.ts';
import { observeIndicatorCheck } from '../../support/indicator-observer.ts';
import { observeLiftCurve } from '../../support/lift-curve-observer.ts';
import { observe } from '../../support/observer.ts';
import { observeTorque } from '../../support/torque-observer.ts';
import { observeValves } from '../../support/valve-observer.ts';

type Any = KindName;
interface Attempt {
  readonly bench: BenchOf<Any>;
  readonly actions: readonly ActionOf<Any>[];
  readonly sheet: SheetOf<Any>;
}

const METRIC = { dial: 'metric-0.01-10' } as const;
/** The standard has no row for an inch gauge. Invented. */
const INCH_LIMITS = {
  unit: 'in',
  wholeRange: 0.002,
  oneTurn: 0.001,
  adjacent: 0.0006,
  hysteresis: 0.0004,
  repeatability: 0.0003,
} as const;

/** A careful attempt of every kind with a desk, by whether its gauge is metric. */
const CAREFUL: Readonly<Record<keyof typeof DESKS, (seed: number, metric: boolean) => Attempt>> = {
  'cam-lift': (seed, metric) => observe({ kind: 'cam-lift', ...(metric ? METRIC : {}) }, seed),
  'run-out': (seed, metric) =>
    observeRunOut({ kind: 'run-out', subject: metric ? 'shaft' : 'housing' }, seed),
  'end-play': (seed, metric) =>
    observeEndPlay({ kind: 'end-play', ...(metric ? METRIC : {}), subject: 'crankshaft' }, seed),
  backlash: (seed, metric) => observeBacklash({ kind: 'backlash', ...(metric ? METRIC : {}) }, seed),
  'liner-protrusion': (seed, metric) =>
    observeLiners({ kind: 'liner-protrusion', ...(metric ? METRIC : {}) }, seed),
  'torque-adapter': (seed, metric) =>
    observeTorque({ kind: 'torque-adapter', ...(metric ? { scaleUnit: 'N-m' as const } : {}) }, seed),
  'dial-reading': (seed, metric) =>
    observeDialReading({ kind: 'dial-reading', unit: metric ? 'mm' : 'in' }, seed),
  'fault-finding': (seed, metric) => observeFault({ kind: 'fault-finding', ...(metric ? METRIC : {}) }, seed),
  'bore-gauge': (seed, metric) =>
    observeBore({ kind: 'bore-gauge', level: 3, ...(metric ? METRIC : {}) }, seed),
  'indicator-check': (seed, metric) =>
    observeIndicatorCheck(
      metric
        ? { kind: 'indicator-check', level: 3, ...METRIC }
        : { kind: 'indicator-check', level: 3, dial: 'inch-0.001-1', limits: INCH_LIMITS },
      seed,
    ),
  'valve-lift': (seed, metric) =>
    observeValves(
      metric
        ? { kind: 'valve-lift', level: 3, tappets: 'hydraulic', dial: 'metric-0.01-20' }
        : { kind: 'valve-lift' },
      seed,
    ),
  'lift-curve': (seed, metric) =>
    observeLiftCurve({ kind: 'lift-curve', level: 3, ...(metric ? METRIC : {}) }, seed),
};

function actionsOf<A>(control: Control<A>): A[] {
  switch (control.control) {
    case 'do':
      return [control.action];
    case 'choose':
      return control.options.map(({ action }) => action);
    case 'pick':
      return control.buttons.flatMap(({ actions }) => actions);
    case 'amount':
      return [{ ...control.action, [control.field]: control.value }];
    case 'turn':
      return control.steps.map((degrees) => ({ ...control.action, degrees }));
  }
}

describe.each(Object.keys(DESKS) as (keyof typeof DESKS)[])('the desk of %s', (kind) => {
  const desk = deskOf<Any>(kind);

  it.each([false, true])(
    'takes a careful sheet, typed box by box, for full points (metric: %s)',
    (metric) => {
      for (let seed = 0; seed < 4; seed += 1) {
        const { bench, actions, sheet } = CAREFUL[kind](seed, metric);
        const plate = brief(bench);
        const typed = typedFrom(desk, plate, sheet);
        const { boxes, problems, blank } = readBoxes(desk.form(plate), typed);
        expect(problems).toEqual({});
        expect(blank.map(({ name }) => name)).toEqual([]);
        expect(gradeAttempt(bench, actions, desk.sheet(plate, boxes)).total).toBe(100);
      }
    },
  );

  it('offers only what its schema takes and its engine knows, always the same controls, and all that was needed', () => {
    const { bench, actions } = CAREFUL[kind](1, false);
    const plate = brief(bench);
    const notes = boxesOf(desk.form(plate)).flatMap(({ note }) => (note === undefined ? [] : [note]));
    const offered = new Set<string>();
    const ids = new Set<string>();
    let state = startBench(bench);
    for (const [index, done] of [null, ...actions].entries()) {
      if (done !== null) {
        expect(desk.action.safeParse(done).success, JSON.stringify(done)).toBe(true);
        expect(desk.did(done, plate)).toMatch(/^[A-Z].*\.$/);
        state = act(bench, state, done).state;
      }
      // Every state would be slow and tell no more.
      if (index % 7 !== 0) continue;
      const view = lookAt(bench, state);
      const controls = desk.controls(plate, view).flatMap((set) => set.controls);
      const now = controls.map(({ id }) => id);
      expect(new Set(now).size).toBe(now.length);
      ids.add(now.join(' '));
      for (const action of [...controls.flatMap(actionsOf), ...notes]) {
        expect(desk.action.parse(action)).toEqual(action);
        const { said } = act(bench, state, action).seen;
        expect(JSON.stringify(said)).not.toContain('unknown-action');
        for (const one of said) expect(desk.said(one)).toMatch(/[.?]$/);
        offered.add(action.type);
      }
      const part = desk.partAt(plate, view);
      if (part !== null) expect(desk.form(plate).map(({ id }) => id)).toContain(part);
    }
    expect(ids.size).toBe(1);
    expect(actions.map(({ type }) => type).filter((type) => !offered.has(type))).toEqual([]);
  });
});
