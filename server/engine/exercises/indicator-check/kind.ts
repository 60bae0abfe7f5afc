import { gaugedKind } from '../../bench-parts/kind.ts';
import { generateIndicatorCheck } from './generate.ts';
import { gradeIndicatorCheck } from './grade.ts';
import type {
  IndicatorCheckBench,
  IndicatorCheckBrief,
  IndicatorCheckDefinition,
  IndicatorCheckOwnAction,
  IndicatorCheckSheet,
  IndicatorCheckState,
  IndicatorCheckView,
} from './types.ts';
import { indicatorCheckWork, startIndicatorCheck } from './work.ts';

/** Indicator check: errors up and down over gauge blocks, against the standard's limits. */
export const indicatorCheck = gaugedKind<
  IndicatorCheckDefinition,
  IndicatorCheckBench,
  IndicatorCheckState,
  IndicatorCheckOwnAction,
  IndicatorCheckView,
  IndicatorCheckBrief,
  IndicatorCheckSheet
>({
  work: indicatorCheckWork,
  generate: generateIndicatorCheck,
  start: startIndicatorCheck,
  see: (_bench, { travel }, gauge) => ({ kind: 'indicator-check', travel, ...gauge }),
  brief: ({ name, dialName, dial, limits, plan }) => ({
    kind: 'indicator-check',
    name,
    dialName,
    dial,
    limits,
    plan,
  }),
  grade: gradeIndicatorCheck,
});
