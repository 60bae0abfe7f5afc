import { restOf, type Zeroed } from '../../bench-parts/log.ts';
import type {
  IndicatorCheckAction,
  IndicatorCheckBench,
  IndicatorCheckState,
  WrittenPoint,
} from './types.ts';
import { lastWay, SAME_SIZE } from './work.ts';

export type Zero = Zeroed<IndicatorCheckState, IndicatorCheckAction>;

/** The pointer at rest over a block. */
export interface Visit {
  /** The dial's unit. */
  readonly at: number;
  readonly way: 'up' | 'down' | 'let-down';
  readonly graduations: number;
  /** Did the block lie on the anvil with nothing between that wiping or another stack would have taken away? */
  readonly wrung: boolean;
  readonly fast: boolean;
  readonly index: number;
}

/** Every rest under a zero, the zero itself among them, in order. */
export function visitsUnder(zero: Zero): Visit[] {
  const { state } = zero;
  // The zero block lay there before the zero: it is judged with what was zeroed on.
  let wrung = true;
  const first: Visit = {
    ...{ at: state.travel, way: lastWay(state) === 1 ? 'up' : 'down', graduations: 0 },
    ...{ wrung, fast: false, index: zero.at },
  };
  const later = zero.entries.flatMap((entry): Visit[] => {
    const { action, step, at: index } = entry;
    if (action.type !== 'put-block' && action.type !== 'let-down') return [];
    if (action.type === 'put-block') wrung = step.said.some(({ code }) => code === 'block-wrung');
    const way =
      action.type === 'let-down'
        ? 'let-down'
        : lastWay(step.state) === 1
          ? ('up' as const)
          : ('down' as const);
    const graduations = restOf(entry)?.graduations ?? 0;
    const fast = action.type === 'let-down' && action.how === 'fast';
    return [{ at: step.state.travel, way, graduations, wrung, fast, index }];
  });
  return [first, ...later];
}

/** Visits of one place, one way. Sizes are the same to a hundredth of a graduation. */
export function visitsAt(
  { dial }: IndicatorCheckBench,
  visits: readonly Visit[],
  at: number,
  way: Visit['way'],
): Visit[] {
  return visits.filter((visit) => visit.way === way && Math.abs(visit.at - at) < SAME_SIZE * dial.graduation);
}

/** What the gauge showed at a place and way, in graduations: the visit nearest to what was written, else the last; null for none. */
export function shownAt(
  bench: IndicatorCheckBench,
  visits: readonly Visit[],
  at: number,
  way: Visit['way'],
  written: number | null,
): number | null {
  const found = visitsAt(bench, visits, at, way).map(({ graduations }) => graduations);
  if (written === null) return found.at(-1) ?? null;
  const nearest = [...found].sort((a, b) => Math.abs(a - written) - Math.abs(b - written));
  return nearest[0] ?? null;
}

/** What was shown over each block, to a tenth of a graduation as an eye reads it; graduations, the last visit of each way. */
export function pointsShown(bench: IndicatorCheckBench, visits: readonly Visit[]): WrittenPoint[] {
  const tenth = (value: number | null) => (value === null ? null : Math.round(10 * value) / 10);
  const places = [...new Set(visits.map(({ at }) => Math.round(at / (SAME_SIZE * bench.dial.graduation))))];
  return places.map((place) => {
    const at = place * SAME_SIZE * bench.dial.graduation;
    return {
      at: at / bench.dial.graduation,
      up: tenth(shownAt(bench, visits, at, 'up', null)),
      down: tenth(shownAt(bench, visits, at, 'down', null)),
    };
  });
}

/** Letting down at the place where it was done most often, in order. */
export function repeatsIn(visits: readonly Visit[]): Visit[] {
  const lets = visits.filter(({ way }) => way === 'let-down');
  const countOf = (at: number) => lets.filter((visit) => visit.at === at).length;
  const [most] = [...lets].sort((a, b) => countOf(b.at) - countOf(a.at));
  return lets.filter(({ at }) => at === most?.at);
}
