import { graduationsPerTurn, type ShownReading } from '../../../server/engine/index.ts';
import type { Chance } from '../../../server/engine/random.ts';
import { JOBS, type Job } from './dials.ts';

/** One lobe under one gauge, as it truly was. Graduations and turns. */
export interface Measurement {
  readonly job: Job;
  readonly perTurn: number;
  readonly high: number;
  readonly preload: number;
  readonly counterAtZero: number;
  readonly others: readonly number[];
}

/** A lobe, its preload and the other lobes on the sheet, drawn; each of their lifts is near this one's, or worn. */
export function drawMeasurement(chance: Chance): Measurement {
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
  const { job, high, preload, counterAtZero, others } = measurement;
  const { graduation } = job.dial;
  return {
    high: high * graduation,
    preload: preload * graduation,
    counterAtZero,
    returned: 0,
    noted: noted === null ? null : noted * graduation,
    others: others.map((other) => other * graduation),
  };
}
