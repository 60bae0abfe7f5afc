import { DIALS, type Dial } from '../../../server/engine/index.ts';

/** A dial, and the lifts that are measured with it, in its own unit. */
export interface Job {
  readonly name: string;
  readonly dial: Dial;
  readonly lowest: number;
  readonly highest: number;
}

const BALANCED_INCH: Dial = { ...DIALS['inch-0.001-1'], face: 'balanced' };
const BALANCED_METRIC: Dial = { ...DIALS['metric-0.01-10'], face: 'balanced' };
const FINE_METRIC: Dial = { ...DIALS['metric-0.01-10'], graduation: 0.001, rangePerTurn: 0.2, travel: 1 };

/** Every dial a practice engine may carry, two balanced faces and a fine one. Lifts as practice engines have them, and what the others can hold. */
export const JOBS: readonly Job[] = [
  { name: '0.001 in, 1 in', dial: DIALS['inch-0.001-1'], lowest: 0.18, highest: 0.29 },
  { name: '0.001 in, 0.25 in', dial: DIALS['inch-0.001-0.25'], lowest: 0.13, highest: 0.2 },
  { name: '0.0005 in, 0.5 in', dial: DIALS['inch-0.0005-0.5'], lowest: 0.18, highest: 0.29 },
  { name: '0.01 mm, 10 mm', dial: DIALS['metric-0.01-10'], lowest: 4.5, highest: 7.4 },
  { name: '0.01 mm, 20 mm', dial: DIALS['metric-0.01-20'], lowest: 4.5, highest: 12 },
  { name: '0.001 in balanced', dial: BALANCED_INCH, lowest: 0.18, highest: 0.29 },
  { name: '0.01 mm balanced', dial: BALANCED_METRIC, lowest: 4.5, highest: 7.4 },
  { name: '0.001 mm, 1 mm', dial: FINE_METRIC, lowest: 0.3, highest: 0.75 },
];
