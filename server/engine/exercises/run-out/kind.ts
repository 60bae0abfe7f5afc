import { gaugedKind } from '../../bench-parts/kind.ts';
import { generateRunOut } from './generate.ts';
import { gradeRunOut } from './grade.ts';
import type {
  RunOutBench,
  RunOutBrief,
  RunOutDefinition,
  RunOutOwnAction,
  RunOutSheet,
  RunOutState,
  RunOutView,
} from './types.ts';
import { runOutWork, startRunOut } from './work.ts';

/** Run-out: readings round a turn, largest less smallest, the high spot. */
export const runOut = gaugedKind<
  RunOutDefinition,
  RunOutBench,
  RunOutState,
  RunOutOwnAction,
  RunOutView,
  RunOutBrief,
  RunOutSheet
>({
  work: runOutWork,
  generate: generateRunOut,
  start: startRunOut,
  see: (_bench, { place }, gauge) => ({ kind: 'run-out', place, ...gauge }),
  brief: ({ name, subject, places, dialName, dial, limitOn, specification }) => ({
    kind: 'run-out',
    name,
    subject,
    places: places.map(({ place }) => place),
    dialName,
    dial,
    limitOn,
    specification,
  }),
  grade: gradeRunOut,
});
