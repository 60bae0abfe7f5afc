import {
  type CamLiftBench,
  type CamLiftBrief,
  type DialName,
  generateBench,
  type SeenAction,
  type SetUpFault,
  toMm,
} from '../../../server/engine/index.ts';
import { type Chance, chanceFor } from '../../../server/engine/random.ts';
import { sightsOf } from '../../../server/engine/set-up/sight.ts';
import { HABITS, type Habits, type Made, workAt } from './student.ts';

export type Kind = SetUpFault | 'backed-up-on-base' | 'nothing';

/** Faults of the bench; the others are made by the student. */
const HIDDEN = [
  'tappet-hung',
  'slot-off-pin',
  'tappet-sticky',
  'indicator-leans',
  'tip-caught',
  'arm-loose',
  'base-loose',
  'rod-loose',
] as const satisfies readonly SetUpFault[];
const MADE = [
  ...(['zero-on-ramp', 'zero-on-nose', 'no-preload', 'travel-ran-out', 'bezel-not-clamped'] as const),
  ...(['backed-up', 'backed-up-on-base'] as const),
] as const satisfies readonly Kind[];

/** Every kind, and runs with nothing wrong as often as with all of them together. */
export const KINDS: readonly Kind[] = [...HIDDEN, ...MADE];

/** Every dial that measures a cam's lift, with a lift it can hold, in its own unit. */
const JOBS: readonly { readonly dial: DialName; readonly lowest: number; readonly highest: number }[] = [
  ...(
    ['inch-0.001-1', 'inch-0.001-1-balanced', 'inch-0.001-1-backwards', 'inch-0.001-1-no-counter'] as const
  ).map((dial) => ({
    ...{ dial, lowest: 0.2, highest: 0.29 },
  })),
  ...(['inch-0.001-0.5', 'inch-0.0005-0.5', 'inch-0.0005-0.5-balanced'] as const).map((dial) => ({
    dial,
    lowest: 0.2,
    highest: 0.29,
  })),
  { dial: 'inch-0.001-0.25', lowest: 0.13, highest: 0.2 },
  ...(
    [
      'metric-0.01-10',
      'metric-0.01-10-balanced',
      'metric-0.01-10-backwards',
      'metric-0.01-10-no-counter',
    ] as const
  ).map((dial) => ({ dial, lowest: 5, highest: 7.4 })),
  { dial: 'metric-0.01-20', lowest: 5, highest: 11 },
];

export interface Run {
  readonly kind: Kind;
  readonly habits: Habits;
  readonly dial: DialName;
  readonly plate: CamLiftBrief;
  readonly log: readonly SeenAction[];
  readonly position: number;
  /** Graduations by which the fault moved a reading, as the student left it; for one set right in time, what it would have been. */
  readonly effect: number;
}

/** One run drawn from its number: a student, a gauge, an engine, and one fault of the kind or nothing. */
export function drawRun(seed: string, kind: Kind): Run {
  const chance = chanceFor(seed, `run/${kind}`);
  const { dial, lowest, highest } = chance.pick(JOBS);
  const nominal = Number(chance.uniform(lowest, highest).toFixed(dial.startsWith('inch') ? 3 : 2));
  const unit = dial.startsWith('inch') ? 'in' : 'mm';
  const clean = generateBench(
    {
      kind: 'cam-lift',
      dial,
      specification: { unit, nominal, lower: nominal - (unit === 'in' ? 0.004 : 0.1) },
      tappetFaults: false,
    },
    seed,
  );
  const position = chance.pick(clean.positions);
  const sound = withRig(clean, position, {});
  const bench = withFault(sound, position, kind, chance);
  const habits = chance.pick(HABITS);
  const made: Made = {
    fault: kind === 'backed-up-on-base' ? kind : (MADE.find((one) => one === kind) ?? null),
    size: chance.uniform(0, 1),
  };
  const other = sound.positions.find((one) => one !== position);
  const positions = other !== undefined && chance.chance(0.3) ? [position, other] : [position];
  const { log, plate } = workAt(bench, positions, habits, made, chance);
  return { kind, habits, dial, plate, log, position, effect: effectOf(bench, position, kind, log, plate) };
}

type Rig = CamLiftBench['rigs'][number];

/** The bench with every rig sound (a lean of at most 2.5° is everywhere), and one changed. */
function withRig(bench: CamLiftBench, position: number, change: Partial<Rig>): CamLiftBench {
  const rigs = bench.rigs.map((rig, index): Rig => {
    const sound: Rig = {
      ...rig,
      tipInHole: false,
      loosePart: null,
      rodRocksMm: 0,
      leanDeg: rig.leanDeg % 2.5,
    };
    return index === position - 1 ? { ...sound, ...change } : sound;
  });
  return { ...bench, rigs };
}

/** The fault as `exercises/cam-lift/` would draw it. */
function withFault(bench: CamLiftBench, position: number, kind: Kind, chance: Chance): CamLiftBench {
  const size = chance.uniform(0, 1);
  const slipWay = chance.chance(0.5) ? 1 : -1;
  const nominalMm = toMm(bench.specification.nominal, bench.specification.unit);
  const tappet = (truth: CamLiftBench['lobes'][number]['tappet']): CamLiftBench => ({
    ...bench,
    lobes: bench.lobes.map((lobe, index) => (index === position - 1 ? { ...lobe, tappet: truth } : lobe)),
  });
  switch (kind) {
    case 'tappet-hung':
      return tappet({ fault: 'dull-stop', hungMm: 0.5 + size, sticksMm: 0 });
    case 'slot-off-pin':
      return tappet({ fault: 'slot-off-pin', hungMm: 6 + 3 * size, sticksMm: 0 });
    case 'tappet-sticky':
      return tappet({ fault: 'sticky', hungMm: 0, sticksMm: (size < 0.5 ? 1.5 : size - 0.35) * nominalMm });
    case 'indicator-leans':
      return withRig(bench, position, { leanDeg: 6 + 6 * size });
    case 'tip-caught':
      return withRig(bench, position, { leanDeg: 6 + 6 * size, tipInHole: true });
    case 'arm-loose':
      return withRig(bench, position, { loosePart: 'arm', slipWay });
    case 'base-loose':
      return withRig(bench, position, { loosePart: 'base', slipWay });
    case 'rod-loose':
      return withRig(bench, position, { loosePart: 'rod', rodRocksMm: toMm(0.001 + 0.004 * size, 'in') });
    default:
      return bench;
  }
}

/** What the fault did to the reading: against the same actions on the same engine without it, or against what the dial and the log say. */
function effectOf(
  bench: CamLiftBench,
  position: number,
  kind: Kind,
  log: readonly SeenAction[],
  plate: CamLiftBrief,
): number {
  const graduationMm = toMm(bench.dial.graduation, bench.dial.unit);
  const truth = bench.lobes[position - 1];
  const rig = bench.rigs[position - 1];
  if (truth === undefined || rig === undefined) return 0;
  const lift = (truth.highestMm - truth.lowestMm) / graduationMm;
  const [sight] = sightsOf(plate, log);
  const points = sight?.runs[0]?.points ?? [];
  const zeroEnds = sight?.runs[0]?.glances.find(({ action }) => action.type === 'zero')?.ends ?? 0;
  const at = (n: number) => points[n]?.count ?? 0;
  const lowest = Math.min(...points.slice(zeroEnds).map(({ count }) => count));
  switch (kind) {
    case 'tappet-hung':
    case 'slot-off-pin':
      return Math.min(lift, truth.tappet.hungMm / graduationMm);
    case 'tappet-sticky':
      return Math.min(lift, truth.tappet.sticksMm / graduationMm);
    case 'indicator-leans':
    case 'tip-caught': {
      const cosine = Math.cos((rig.leanDeg * Math.PI) / 180);
      return lift * (rig.tipInHole ? 1 - cosine : 1 / cosine - 1);
    }
    case 'arm-loose':
    case 'base-loose':
    case 'rod-loose': {
      // Where it was found to give, its size is what it could have done; else what it did from one round to the next.
      if (log.some(({ seen }) => seen.said.some(({ code }) => code === 'was-loose')))
        return kind === 'rod-loose' ? (2 * rig.rodRocksMm) / graduationMm : 3;
      return movedRoundToRound(points.slice(zeroEnds));
    }
    case 'zero-on-ramp':
    case 'zero-on-nose':
      return at(zeroEnds) - lowest;
    case 'no-preload': {
      const whole =
        Math.max(...points.map(({ count }) => count)) - Math.min(...points.map(({ count }) => count));
      return Math.max(0, lift - whole);
    }
    case 'travel-ran-out':
      return log.some(({ seen }) => seen.said.some(({ code }) => code === 'hard-stop'))
        ? Math.max(
            0,
            lift - (Math.max(...points.slice(zeroEnds).map(({ count }) => count)) - at(zeroEnds)),
            at(zeroEnds) - lowest,
          )
        : 0;
    case 'bezel-not-clamped':
      return Math.abs((sight?.glances ?? []).reduce((sum, { faceMoved }) => sum + faceMoved, 0));
    default:
      return 0;
  }
}

/** Most that a place of the lobe differs from one round of the cam to the next, by the same degree of crank. */
function movedRoundToRound(points: readonly { readonly crankDeg: number; readonly count: number }[]): number {
  const first = new Map<number, number>();
  let most = 0;
  for (const { crankDeg, count } of points) {
    const place = Math.round(crankDeg) % 720;
    const before = first.get(place);
    if (before === undefined) first.set(place, count);
    else most = Math.max(most, Math.abs(count - before));
  }
  return most;
}
