import { gaugedKind } from '../../bench-parts/kind.ts';
import { generateBore } from './generate.ts';
import { gradeBore } from './grade.ts';
import type {
  BoreBench,
  BoreBrief,
  BoreDefinition,
  BoreOwnAction,
  BoreSheet,
  BoreState,
  BoreView,
} from './types.ts';
import { boreWork, startBore } from './work.ts';

/** Bore gauge: zero in the ring, rock at each place, diameters, out-of-round and taper. */
export const boreGauge = gaugedKind<
  BoreDefinition,
  BoreBench,
  BoreState,
  BoreOwnAction,
  BoreView,
  BoreBrief,
  BoreSheet
>({
  work: boreWork,
  generate: generateBore,
  start: startBore,
  see: (_bench, { spot, tiltDeg }, gauge) => ({
    kind: 'bore-gauge',
    spot,
    slantDeg: 2 * Math.round(tiltDeg / 2) + 0,
    ...gauge,
  }),
  brief: ({ name, dialName, dial, limits, ring, travel }) => ({
    kind: 'bore-gauge',
    name,
    dialName,
    dial,
    limits,
    ring,
    travel,
  }),
  grade: gradeBore,
});
