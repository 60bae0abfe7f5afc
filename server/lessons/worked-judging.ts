import {
  indicatorErrorPart,
  judge,
  leanPart,
  repeatabilityPart,
  resolutionPart,
  uncertaintyBudget,
  zeroReturnPart,
} from '../engine/index.ts';
import { type Call, numberOf, TemplateProblem, textOf } from './template.ts';
import type { WorkedNumbers } from './worked-kit.ts';

/** A limit that is left out is open. */
function limitsOf(call: Call) {
  const limit = (key: string) => (call.given[key] === undefined ? null : numberOf(call, key));
  return { lower: limit('lower'), upper: limit('upper') };
}

/** A budget in inches of a lift read with an indicator: graduation, gauge, scatter, return, lean; what is left out is not in it. */
function budgetOf(call: Call) {
  const readings = textOf(call, 'readings').split(/\s+/).map(Number);
  try {
    const parts = [
      resolutionPart(numberOf(call, 'graduation')),
      indicatorErrorPart(numberOf(call, 'gauge')),
      repeatabilityPart(readings),
      ...(call.given.returned === undefined ? [] : [zeroReturnPart(numberOf(call, 'returned'))]),
      ...(call.given.lean === undefined ? [] : [leanPart(readings[0] ?? 0, numberOf(call, 'lean'))]),
    ];
    return uncertaintyBudget(parts, { k: 2 });
  } catch (error) {
    if (error instanceof RangeError) throw new TemplateProblem(`holds {{${call.name}}}: ${error.message}`);
    throw error;
  }
}

const BUDGET_LINES = ['resolution', 'gauge', 'scatter', 'returned', 'lean'] as const;

/** Numbers worked out in the lessons on judging readings and putting things together. */
export const JUDGING_WORKED: WorkedNumbers = {
  /** `{{guarded lift=0.234 lower=0.233 u=0.0015}}`: the verdict with a guard band of U. */
  guarded: (call) => {
    const u = { expanded: numberOf(call, 'u'), k: 2 };
    return judge(numberOf(call, 'lift'), u, limitsOf(call), 'guarded').verdict.replaceAll('-', ' ');
  },
  /** `{{probability lift=0.234 lower=0.233 u=0.0015}}` that it is inside, k = 2. */
  probability: (call) => {
    const u = { expanded: numberOf(call, 'u'), k: 2 };
    return `${(judge(numberOf(call, 'lift'), u, limitsOf(call), 'simple').probability * 100).toFixed(0)} %`;
  },
  /** `{{budget graduation=0.001 gauge=0.001 readings="0.236 0.237 0.236" show=U}}`, k = 2; `show` one of its lines, `combined` or `U`. */
  budget: (call) => {
    const { lines, combined, expanded } = budgetOf(call);
    const show = textOf(call, 'show');
    const line = BUDGET_LINES.findIndex((name) => name === show);
    const value = show === 'U' ? expanded : show === 'combined' ? combined : lines[line]?.contribution;
    if (value === undefined) throw new TemplateProblem(`holds {{budget show=${show}}}, which is not in it`);
    return `${value.toFixed(5)} in`;
  },
  /** `{{share part=37 whole=233}}` in percent. */
  share: (call) => `${((100 * numberOf(call, 'part')) / numberOf(call, 'whole')).toFixed(1)} %`,
};
