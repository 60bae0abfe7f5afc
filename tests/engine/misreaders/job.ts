import { mirrored, shownBy } from '../../../server/engine/exercises/dial-reading/diagnose.ts';
import {
  type Dial,
  generateBench,
  graduationsPerTurn,
  type ShownReading,
} from '../../../server/engine/index.ts';
import type { Chance } from '../../../server/engine/random.ts';
import { JOBS, type Job } from './dials.ts';

/** One lobe under one gauge, or one drill, as it truly was. Graduations and turns. */
export interface Measurement {
  readonly what: 'lobe' | 'drill';
  readonly job: Pick<Job, 'name' | 'dial'>;
  readonly perTurn: number;
  readonly high: number;
  readonly preload: number | null;
  /** Null for a dial without a small hand. */
  readonly counterAtZero: number | null;
  readonly others: readonly number[];
}

/** What is read: lobes on an engine, dial-reading drills, or half of each. */
export type Work = 'lobes' | 'drills' | 'both';

export function drawMeasurement(chance: Chance, work: Work): Measurement {
  if (work === 'lobes') return drawLobe(chance);
  return work === 'drills' || chance.chance(0.5) ? drawDrill(chance) : drawLobe(chance);
}

/** A drill of the second or third level, its dial as the diagnosis is given it: coming out is told as going in. */
function drawDrill(chance: Chance): Measurement {
  const seed = String(chance.uniform(0, 1));
  const bench = generateBench({ kind: 'dial-reading', level: chance.pick([2, 3]), drills: 5 }, seed);
  const drill = chance.pick(bench.drills);
  const dial = mirrored(drill);
  const shown = shownBy(bench, drill);
  const { preload = null, counterAtZero = null, others = [] } = shown;
  const count = (length: number) => length / dial.graduation;
  return {
    what: 'drill',
    job: { name: nameOf(dial), dial },
    perTurn: graduationsPerTurn(dial),
    high: count(shown.high),
    preload: preload === null ? null : count(preload),
    counterAtZero,
    others: others.map(count),
  };
}

function nameOf({ graduation, unit, face, counter }: Dial): string {
  return `drill ${graduation} ${unit} ${face}, ${counter}`;
}

/** A lobe, its preload and the other lobes on the sheet, drawn; each of their lifts is near this one's, or worn. */
function drawLobe(chance: Chance): Measurement {
  const job = chance.pick(JOBS);
  const { graduation, rangePerTurn, travel } = job.dial;
  const perTurn = graduationsPerTurn(job.dial);
  const count = (length: number) => length / graduation;
  const high = count(chance.uniform(job.lowest, job.highest));
  const most = Math.min(2.5, (travel - high * graduation) / rangePerTurn - 0.25);
  const preload = chance.uniform(0.25, Math.max(0.3, most)) * perTurn;
  const thou = count(job.dial.unit === 'in' ? 0.001 : 0.0254);
  const others = Array.from({ length: chance.pick([1, 1, 2, 3, 5]) }, () => {
    const sound = high + chance.normal(0, 0.85 * thou);
    return chance.chance(0.35) ? sound - chance.uniform(6, 30) * thou : sound;
  });
  return {
    what: 'lobe',
    job,
    perTurn,
    high,
    preload,
    counterAtZero: preload / perTurn + chance.uniform(-0.05, 0.05),
    others: others.filter((other) => other > 0),
  };
}

/** The same in the dial's unit, as the engine's diagnosis is given it. */
export function shownOf(measurement: Measurement, noted: number | null): ShownReading {
  const { what, job, high, preload, counterAtZero, others } = measurement;
  const { graduation } = job.dial;
  return {
    high: high * graduation,
    preload: preload === null ? null : preload * graduation,
    counterAtZero,
    returned: 0,
    // A drill's pointer stands still where it came to, and nothing is written short of it.
    noted: what === 'drill' ? high * graduation : noted === null ? null : noted * graduation,
    others: others.map((other) => other * graduation),
  };
}

/** Where a small hand stands that began somewhere and went so many turns of the pointer in; 0 to 10. */
export function handAfter({ job }: Measurement, began: number, turns: number): number {
  const hand = job.dial.counter === 'backwards' ? began - turns : began + turns;
  return (hand + 10) % 10;
}
