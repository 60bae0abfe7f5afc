import { gaugedKind } from '../../bench-parts/kind.ts';
import { generateBacklash } from './generate.ts';
import { gradeBacklash } from './grade.ts';
import type {
  BacklashBench,
  BacklashBrief,
  BacklashDefinition,
  BacklashOwnAction,
  BacklashSheet,
  BacklashState,
  BacklashView,
} from './types.ts';
import { backlashWork, startBacklash } from './work.ts';

/** Backlash: hold one gear, rock the other, at several teeth. */
export const backlash = gaugedKind<
  BacklashDefinition,
  BacklashBench,
  BacklashState,
  BacklashOwnAction,
  BacklashView,
  BacklashBrief,
  BacklashSheet
>({
  work: backlashWork,
  generate: generateBacklash,
  start: startBacklash,
  see: (_bench, { tooth, held }, gauge) => ({ kind: 'backlash', tooth, held, ...gauge }),
  brief: ({ name, lashMm, dialName, dial, specification, spread }) => ({
    kind: 'backlash',
    name,
    teeth: lashMm.length,
    dialName,
    dial,
    specification,
    spread,
  }),
  grade: gradeBacklash,
});
