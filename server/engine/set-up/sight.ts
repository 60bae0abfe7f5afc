import { wrapDegrees } from '../angles.ts';
import { graduationsPerTurn } from '../dial/dial.ts';
import type {
  CamLiftAction,
  CamLiftBrief,
  CamLiftSeen,
  Perception,
  Sample,
} from '../exercises/cam-lift/types.ts';

/** One action of the log, and what was perceived of it. */
export interface SeenAction {
  readonly action: CamLiftAction;
  /** Whatever kind of exercise it was seen in. */
  readonly seen: Omit<CamLiftSeen, 'now'> & { readonly now: Omit<CamLiftSeen['now'], 'kind'> };
}

/** Where the pointer stood at one degree of crank. */
export interface Point {
  /** Index of the action in the log. */
  readonly at: number;
  /** Counted on over whole turns, forward positive. */
  readonly crankDeg: number;
  /** Pointer against the case, not the face, in graduations counted on from where the indicator was set down. */
  readonly count: number;
  /** The same without what pressing, lifting the tip and lining up moved it by: barring alone. */
  readonly barred: number;
  readonly effort: number;
}

/** One action as an eye on the gauge follows it. */
export interface Glance {
  readonly at: number;
  readonly action: CamLiftAction;
  readonly said: readonly Perception[];
  readonly clamped: boolean;
  /** Graduations the face turned against the case, other than by being zeroed. */
  readonly faceMoved: number;
  /** Graduations the pointer moved against the case in all. */
  readonly moved: number;
  /** Index into the run's points of where it ended; null with no indicator on. */
  readonly ends: number | null;
}

/** From the indicator being set down to its being taken off. */
export interface SeenRun {
  readonly points: readonly Point[];
  readonly glances: readonly Glance[];
}

/** All that was seen at one pump position. */
export interface Sight {
  readonly position: number;
  readonly glances: readonly Glance[];
  readonly runs: readonly SeenRun[];
}

/** Follows the pointer through the whole log, as an eye that never looks away would, position by position. */
export function sightsOf({ dial }: Pick<CamLiftBrief, 'dial'>, log: readonly SeenAction[]): Sight[] {
  const perTurn = graduationsPerTurn(dial);
  const near = (graduations: number) => wrapDegrees(graduations, perTurn);
  const sights = new Map<number, { position: number; glances: Glance[]; runs: OpenRun[] }>();
  let crankDeg = 0;
  let last: Sample | null = null;
  let faceTurn = 0;
  let run: OpenRun | null = null;
  for (const [at, { action, seen }] of log.entries()) {
    const { now, said, samples } = seen;
    const turned = near(now.faceTurn - faceTurn);
    const zeroes = said.some(({ code }) => code === 'bezel-at-zero');
    faceTurn = now.faceTurn;
    if (now.position === null || said.some(({ code }) => code === 'cannot')) {
      last = now.sample;
      continue;
    }
    const sight = sights.get(now.position) ?? { position: now.position, glances: [], runs: [] };
    sights.set(now.position, sight);
    const setDown = action.type === 'preload';
    if (now.indicator === 'off') run = null;
    if (setDown) {
      run = { points: [], glances: [], count: 0, barred: 0 };
      sight.runs.push(run);
    }
    const before = run?.count ?? 0;
    if (run !== null) {
      // Turning the bezel to zero, setting down and lifting the tip show no part of the lobe: only where they end counts.
      const inTheAir = setDown || zeroes || action.type === 'lift-tip';
      const shown: readonly Sample[] = inTheAir ? [now.sample] : [...samples, now.sample];
      const slipped = zeroes ? 0 : turned;
      const slipsAt = slipped === 0 ? -1 : slipIndex(shown);
      for (const [index, sample] of shown.entries()) {
        const byDeg: number = last === null ? 0 : wrapDegrees(sample.crankDeg - last.crankDeg, 360);
        const byPointer: number = last === null || setDown ? 0 : near(sample.pointer - last.pointer);
        const moved: number = zeroes ? 0 : byPointer + (index === slipsAt ? slipped : 0);
        crankDeg += byDeg;
        run.count += moved;
        if (action.type === 'bar') run.barred += moved;
        const point: Point = { at, crankDeg, count: run.count, barred: run.barred, effort: sample.effort };
        const previous = run.points.at(-1);
        // Several samples at one place of the crank, as when a tappet drops: where they end is what counts.
        const sameBar = previous?.at === at || action.type === 'bar';
        if (previous !== undefined && sameBar && byDeg === 0) run.points.pop();
        run.points.push(point);
        last = sample;
      }
    } else {
      for (const sample of samples) {
        crankDeg += last === null ? 0 : wrapDegrees(sample.crankDeg - last.crankDeg, 360);
        last = sample;
      }
    }
    last = now.sample;
    const glance: Glance = {
      ...{ at, action, said, clamped: now.clamped, faceMoved: zeroes || setDown ? 0 : turned },
      moved: (run?.count ?? 0) - before,
      ends: run === null ? null : run.points.length - 1,
    };
    sight.glances.push(glance);
    run?.glances.push(glance);
  }
  return [...sights.values()];
}

interface OpenRun {
  readonly points: Point[];
  readonly glances: Glance[];
  count: number;
  barred: number;
}

/** A free bezel slips as a compression is felt; where none is, by the end of the action. */
function slipIndex(samples: readonly Sample[]): number {
  for (let index = 1; index < samples.length; index += 1)
    if (isHump(samples[index - 1]?.effort ?? 0, samples[index]?.effort ?? 0)) return index;
  return samples.length - 1;
}

/** Effort on the bar at which a compression is felt: clearly over what bearings and rings take. */
const STIFF = 0.345;

export function isHump(effortBefore: number, effort: number): boolean {
  return effortBefore <= STIFF && effort > STIFF;
}
