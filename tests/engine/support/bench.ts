import { type GaugeError, PERFECT_GAUGE } from '../../../server/engine/dial/gauge-error.ts';
import type {
  CamLiftBench,
  LobeTruth,
  RigTruth,
  RollerTruth,
  TappetTruth,
} from '../../../server/engine/exercises/cam-lift/bench.ts';
import { SOUND_RIG } from '../../../server/engine/exercises/cam-lift/draw-rig.ts';
import { generateCamLift } from '../../../server/engine/exercises/cam-lift/generate.ts';
import { SOUND_ROLLER } from '../../../server/engine/exercises/cam-lift/roller.ts';
import { type CamLiftState, startCamLift } from '../../../server/engine/exercises/cam-lift/state.ts';
import { type Step, stepCamLift } from '../../../server/engine/exercises/cam-lift/step.ts';
import {
  type CamLiftAction,
  type CamLiftDefinition,
  type CamLiftSheet,
  type Grade,
  gradeAttempt,
  toMm,
  type WrittenLobe,
} from '../../../server/engine/index.ts';
import { extremes, type Lobe, type LobeCondition } from '../../../server/engine/lobe/lift-curve.ts';

/** Inches. What the plain bench measures, and its limits. */
export const PLAIN_LIFT_IN = 0.237;
export const POSITION = 3;

export interface Hidden {
  readonly liftIn?: number;
  readonly condition?: Partial<LobeCondition>;
  readonly tappet?: Partial<TappetTruth>;
  /** The gauge's own errors; none where a test does not ask for them. */
  readonly gauge?: GaugeError;
  /** How indicator, stand and rod stand at position 3. */
  readonly rig?: Partial<RigTruth>;
  readonly roller?: RollerTruth;
}

/** An engine with nothing wrong at position 3 but what a test puts there. Limits 0.233 to 0.241 in. */
export function plainBench(
  hidden: Hidden = {},
  definition: Partial<CamLiftDefinition> = {},
  seed: string | number = 'plain',
): CamLiftBench {
  const specification = { unit: 'in', nominal: PLAIN_LIFT_IN, lower: 0.233, upper: 0.241 } as const;
  const bench = generateCamLift(
    { kind: 'cam-lift', positions: [POSITION], specification, tappetFaults: false, ...definition },
    seed,
  );
  return {
    ...bench,
    gauge: hidden.gauge ?? PERFECT_GAUGE,
    rollers: bench.lobes.map((_, index) => ({
      ...SOUND_ROLLER,
      ...(index + 1 === POSITION ? hidden.roller : {}),
    })),
    rigs: bench.lobes.map((_, index) => ({ ...SOUND_RIG, ...(index + 1 === POSITION ? hidden.rig : {}) })),
    lobes: bench.lobes.map((truth, index) => (index + 1 === POSITION ? hide(truth, hidden) : truth)),
  };
}

/** The same lobe in a condition of the test's choosing. */
export function hide(
  truth: LobeTruth,
  { liftIn = PLAIN_LIFT_IN, condition = {}, tappet = {} }: Hidden,
): LobeTruth {
  const sound = { wearMm: 0, buildUp: null, runOutMm: 0, runOutPhaseCamDeg: 0 };
  const lobe: Lobe = { ...truth.lobe, liftMm: toMm(liftIn, 'in'), condition: { ...sound, ...condition } };
  return {
    state: truth.state,
    lobe,
    ...extremes(lobe),
    tappet: { fault: 'free', hungMm: 0, sticksMm: 0, ...tappet },
  };
}

/** Does actions one after another; the steps with everything hidden in them. */
export function stepThrough(
  bench: CamLiftBench,
  actions: readonly CamLiftAction[],
): { state: CamLiftState; steps: Step[] } {
  let state = startCamLift(bench);
  const steps = actions.map((action) => {
    const step = stepCamLift(bench, state, action, 'every-degree');
    state = step.state;
    return step;
  });
  return { state, steps };
}

export function stateAfter(bench: CamLiftBench, actions: readonly CamLiftAction[]): CamLiftState {
  return stepThrough(bench, actions).state;
}

/** What was said by the last of these actions. */
export function lastSaid(bench: CamLiftBench, actions: readonly CamLiftAction[]): string[] {
  return (
    stepThrough(bench, actions)
      .steps.at(-1)
      ?.said.map(({ code }) => code) ?? []
  );
}

/** Where the pointer stands after these actions, in graduations from the face's zero. */
export function pointerAfter(bench: CamLiftBench, actions: readonly CamLiftAction[]): number {
  return stepThrough(bench, actions).steps.at(-1)?.moments.at(-1)?.graduations ?? Number.NaN;
}

/** Degrees forward from where the crank stands to a place counted from the middle of the lobe's nose. */
export function degreesTo(bench: CamLiftBench, position: number, fromNoseDeg: number): number {
  const nose = bench.lobes[position - 1]?.lobe.noseCrankDeg ?? 0;
  return (((nose + fromNoseDeg - bench.startCrankDeg) % 720) + 720) % 720;
}

export const bars = (degrees: number, step = 60): CamLiftAction[] => {
  const count = Math.ceil(Math.abs(degrees) / step);
  return Array.from({ length: count }, () => ({ type: 'bar', degrees: degrees / count, speed: 60 }));
};

/** A log in named parts, so that a test can leave one out or put another in its place. */
export function goodParts(bench: CamLiftBench, position = POSITION) {
  return {
    seat: [{ type: 'move', position }, { type: 'seat' }, { type: 'seat' }],
    toBase: bars(degreesTo(bench, position, 360)),
    preload: [{ type: 'preload', turns: 0.5 }],
    tip: [{ type: 'lift-tip' }, { type: 'lift-tip' }, { type: 'lift-tip' }],
    zero: [{ type: 'zero' }],
    clamp: [{ type: 'clamp' }],
    first: bars(720),
    firstPress: [{ type: 'press' }],
    second: bars(720),
    secondPress: [{ type: 'press' }],
  } satisfies Record<string, CamLiftAction[]> as Record<Part, CamLiftAction[]>;
}

export type Part =
  | 'seat'
  | 'toBase'
  | 'preload'
  | 'tip'
  | 'zero'
  | 'clamp'
  | 'first'
  | 'firstPress'
  | 'second'
  | 'secondPress';

export function logOf(
  bench: CamLiftBench,
  changes: Partial<Record<Part, CamLiftAction[]>> = {},
  position = POSITION,
): CamLiftAction[] {
  return Object.values({ ...goodParts(bench, position), ...changes }).flat();
}

const BLANK: CamLiftSheet = { lobes: [] };

/** The line of somebody who wrote what the gauge showed on each pass, to the graduation. */
export function rightLine(
  bench: CamLiftBench,
  actions: readonly CamLiftAction[],
  position = POSITION,
): WrittenLobe {
  const { graduation, rangePerTurn } = bench.dial;
  const outcome = gradeAttempt(bench, actions, BLANK).lobes.find((lobe) => lobe.position === position);
  const readings = (outcome?.shown ?? []).map((shown) => {
    const whole = Math.round((shown ?? 0) / graduation);
    const perTurn = Math.round(rangePerTurn / graduation);
    const turns = Math.floor(whole / perTurn);
    return {
      counterBefore: 0.25,
      counterHigh: null,
      turns,
      pointer: whole - turns * perTurn,
      lift: whole * graduation,
      returned: 0,
    };
  });
  const lift = readings.reduce((sum, one) => sum + one.lift, 0) / readings.length;
  const { lower, upper } = bench.specification;
  const verdict =
    lower !== null && lift < lower - 1e-9
      ? 'below'
      : upper !== null && lift > upper + 1e-9
        ? 'above'
        : 'inside';
  return {
    position,
    readings,
    lift,
    verdict,
    next: verdict === 'inside' ? 'return-to-service' : 'measure-again',
  };
}

export type Log =
  | Partial<Record<Part, CamLiftAction[]>>
  | ((bench: CamLiftBench) => Partial<Record<Part, CamLiftAction[]>>);
export type Line = (right: WrittenLobe) => WrittenLobe;

export interface Attempt {
  readonly hidden?: Hidden;
  readonly definition?: Partial<CamLiftDefinition>;
  /** Parts of the log done otherwise. */
  readonly log?: Log;
  /** The line written otherwise than the gauge showed. */
  readonly line?: Line;
}

/** Grades a good attempt at position 3 with the changes a test makes to it. */
export function gradeOf({
  hidden = {},
  definition = {},
  log = {},
  line = (right) => right,
}: Attempt = {}): Grade {
  const bench = plainBench(hidden, definition);
  const actions = logOf(bench, typeof log === 'function' ? log(bench) : log);
  return gradeAttempt(bench, actions, { lobes: [line(rightLine(bench, actions))] });
}

/** Codes of the remarks that cost points, each once. */
export function charged(grade: Grade): string[] {
  return [...new Set(grade.remarks.filter(({ pointsLost }) => pointsLost > 0).map(({ code }) => code))];
}
