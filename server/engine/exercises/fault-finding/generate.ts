import type { Level } from '../../bench-parts/types.ts';
import { DIALS, type DialName } from '../../dial/dial.ts';
import { type Chance, chanceFor } from '../../random.ts';
import { toMm } from '../../units.ts';
import type { CamLiftBench, LobeState, RigTruth, TappetTruth } from '../cam-lift/bench.ts';
import { lobeAt, trueLiftMm } from '../cam-lift/bench.ts';
import { generateCamLift } from '../cam-lift/generate.ts';
import type { FaultAnswer, FaultFindingBench, FaultFindingDefinition } from './types.ts';

const GROSS: readonly FaultAnswer[] = ['tappet-hung', 'slot-off-pin', 'tappet-sticky', 'rod-loose'];
const ANY: readonly FaultAnswer[] = [
  ...GROSS,
  ...(['indicator-leans', 'tip-caught', 'arm-loose', 'base-loose', 'none'] as const),
];
const ALL: readonly FaultAnswer[] = [...ANY, 'worn-lobe'];

const MAY_BE: Readonly<Record<Level, readonly FaultAnswer[]>> = { 1: GROSS, 2: ANY, 3: ALL };

/** Gauges of level 3: the small hand may run backwards, the gauge may be metric or fine. */
const LEVEL_3: readonly DialName[] = [
  ...(['inch-0.001-1', 'inch-0.001-1-backwards', 'inch-0.0005-0.5'] as const),
  ...(['metric-0.01-10', 'metric-0.01-10-backwards'] as const),
];

/**
 * Draws an engine with exactly one thing hidden at its one pump position, or nothing. Each hidden condition has its own stream of the seed.
 * @throws RangeError when the definition cannot be built.
 */
export function generateFaultFinding(
  definition: FaultFindingDefinition,
  seed: string | number,
): FaultFindingBench {
  const text = String(seed);
  const level = definition.level ?? 2;
  const drawnDial = level === 3 ? chanceFor(text, 'fault-dial').pick(LEVEL_3) : 'inch-0.001-1';
  const dialName = definition.dial ?? drawnDial;
  const canBeWorn =
    definition.specification === undefined || (definition.specification.lower ?? null) !== null;
  const mayBe = MAY_BE[level]?.filter((one) => one !== 'worn-lobe' || canBeWorn);
  if (mayBe === undefined) throw new RangeError(`There is no level ${String(level)}.`);
  const fault = definition.fault ?? chanceFor(text, 'fault').pick(mayBe);
  if (!ALL.includes(fault)) throw new RangeError(`There is no fault "${String(fault)}".`);
  const sound = engineWith(fault === 'worn-lobe' ? 'worn' : 'sound', definition, dialName, text);
  const offered = mayBe.includes(fault) ? mayBe : ALL;
  const engine = withFault(sound, fault, level, chanceFor(text, 'fault-size'));
  return {
    kind: 'fault-finding',
    version: 1,
    seed: text,
    level,
    dialName,
    dial: DIALS[dialName],
    fault,
    offered,
    engine,
  };
}

/** Engines looked at until one has its lobe as wanted: more than a third of them have. */
const TRIES = 100;

function engineWith(
  state: LobeState,
  definition: FaultFindingDefinition,
  dial: DialName,
  text: string,
): CamLiftBench {
  const { engineName, specification } = definition;
  for (let n = 0; n < TRIES; n += 1) {
    const engine = generateCamLift(
      {
        ...{ kind: 'cam-lift', positions: 1, dial, tappetFaults: false },
        ...(engineName === undefined ? {} : { engineName }),
        ...(specification === undefined ? {} : { specification }),
      },
      `${text}/engine/${n}`,
    );
    const [position = 1] = engine.positions;
    if (lobeAt(engine, position).state === state) return { ...engine, rigs: engine.rigs.map(soundRig) };
  }
  throw new RangeError('No engine of this specification has a lobe like that.');
}

/** Nobody sets an indicator quite square by eye: a lean of 2.5° at most stays everywhere. */
function soundRig(rig: RigTruth): RigTruth {
  return { ...rig, leanDeg: rig.leanDeg % 2.5, tipInHole: false, loosePart: null, rodRocksMm: 0 };
}

/** Graduations that even a small fault moves a reading by; what is plain to see is far over it. */
const SMALL = 2.5;
const MOST_LEAN_DEG = 12;

function withFault(engine: CamLiftBench, fault: FaultAnswer, level: Level, chance: Chance): CamLiftBench {
  const [position = 1] = engine.positions;
  const size = chance.uniform(0, 1);
  const slipWay = chance.chance(0.5) ? 1 : -1;
  const tappet = (truth: TappetTruth): CamLiftBench => ({
    ...engine,
    lobes: engine.lobes.map((lobe, index) => (index === position - 1 ? { ...lobe, tappet: truth } : lobe)),
  });
  const rig = (change: Partial<RigTruth>): CamLiftBench => ({
    ...engine,
    rigs: engine.rigs.map((one, index) => (index === position - 1 ? { ...one, ...change } : one)),
  });
  const liftMm = trueLiftMm(lobeAt(engine, position));
  switch (fault) {
    case 'tappet-hung':
      return tappet({ fault: 'dull-stop', hungMm: level === 3 ? 0.3 + size : 0.5 + size, sticksMm: 0 });
    case 'slot-off-pin':
      return tappet({ fault: 'slot-off-pin', hungMm: 6 + 3 * size, sticksMm: 0 });
    case 'tappet-sticky':
      return tappet({ fault: 'sticky', hungMm: 0, sticksMm: (size < 0.5 ? 1.5 : size - 0.35) * liftMm });
    case 'indicator-leans':
    case 'tip-caught': {
      const least = leanFor(engine, liftMm, level === 3 ? SMALL : 2 * SMALL);
      const leanDeg = least + size * Math.max(0, MOST_LEAN_DEG - least);
      return rig({ leanDeg, tipInHole: fault === 'tip-caught' });
    }
    case 'arm-loose':
    case 'base-loose':
      return rig({ loosePart: fault === 'arm-loose' ? 'arm' : 'base', slipWay });
    case 'rod-loose':
      return rig({ loosePart: 'rod', rodRocksMm: toMm((level === 3 ? 0.0025 : 0.004) + 0.001 * size, 'in') });
    default:
      return engine;
  }
}

/** Lean, in degrees, that costs so many graduations on this lobe; 12° where even that costs less. */
function leanFor({ dial }: CamLiftBench, liftMm: number, graduations: number): number {
  const share = (graduations * toMm(dial.graduation, dial.unit)) / liftMm;
  return Math.min(MOST_LEAN_DEG, Math.max(6, (Math.acos(1 / (1 + share)) * 180) / Math.PI));
}
