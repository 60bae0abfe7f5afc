import { gaugedKind } from '../../bench-parts/kind.ts';
import { generateLiners } from './generate.ts';
import { gradeLiners } from './grade.ts';
import {
  type LinerBench,
  type LinerBrief,
  type LinerDefinition,
  type LinerOwnAction,
  type LinerSheet,
  type LinerState,
  type LinerView,
  POINTS,
} from './types.ts';
import { linerWork, startLiners } from './work.ts';

/** Liner protrusion: zero on the deck, four points a liner, neighbours compared. */
export const linerProtrusion = gaugedKind<
  LinerDefinition,
  LinerBench,
  LinerState,
  LinerOwnAction,
  LinerView,
  LinerBrief,
  LinerSheet
>({
  work: linerWork,
  generate: generateLiners,
  start: startLiners,
  see: (_bench, { spot, pressed }, gauge) => ({ kind: 'liner-protrusion', spot, pressed, ...gauge }),
  brief: ({ name, liners, dialName, dial, limits }) => ({
    kind: 'liner-protrusion',
    name,
    liners: liners.length,
    points: POINTS,
    dialName,
    dial,
    limits,
  }),
  grade: gradeLiners,
});
