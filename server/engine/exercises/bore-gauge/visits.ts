import type { GaugeEntry, Zeroed } from '../../bench-parts/log.ts';
import { levelAt } from './geometry.ts';
import type { BoreAction, BoreAxis, BoreBench, BoreLevel, BoreSpot, BoreState } from './types.ts';

export type BoreZero = Zeroed<BoreState, BoreAction>;
type Entry = GaugeEntry<BoreState, BoreAction>;

/** As near to square as no eye tells apart. */
const SQUARE_DEG = 0.01;

/** From the gauge being put somewhere until it is put somewhere else. */
export interface Visit {
  readonly at: number;
  readonly spot: BoreSpot;
  /** Was it rocked until the pointer turned back? */
  readonly turned: boolean;
  /** How often the turning point was passed. */
  readonly passes: number;
  /** What the gauge showed, in graduations from zero: where the pointer turned back, or where it stood if it never did. */
  readonly shown: number;
  /** Did its contacts touch the bore where it stood square, so that the pointer could turn back? */
  readonly reached: boolean;
  /** Where the pointer stood, slanted. */
  readonly rests: readonly number[];
  /** Where the pointer stood as something was written, two graduations or more from where it turned back. */
  readonly noted: readonly number[];
}

/** Everywhere the gauge was under a zero, in order; the first is where it was zeroed. */
export function visitsUnder(zero: BoreZero): Visit[] {
  const groups: { from: BoreState; at: number; entries: Entry[] }[] = [
    { from: zero.state, at: zero.at, entries: [] },
  ];
  for (const entry of zero.entries) {
    const { type } = entry.action;
    if (type === 'put') groups.push({ from: entry.step.state, at: entry.at, entries: [entry] });
    else if (type === 'rock' || type === 'note') groups.at(-1)?.entries.push(entry);
  }
  return groups.flatMap(({ from, at, entries }) => {
    if (from.spot === null) return [];
    const rocked = entries.filter(({ action }) => action.type === 'rock');
    const passes = rocked.filter(
      ({ before, step }) =>
        Math.min(before.tiltDeg, step.state.tiltDeg) < SQUARE_DEG &&
        Math.max(before.tiltDeg, step.state.tiltDeg) > -SQUARE_DEG,
    );
    const rests = entries.flatMap(({ step }) => step.moments.at(-1)?.graduations ?? []);
    const moments = passes.flatMap(({ step }) => step.moments);
    const seen = moments.map(({ graduations }) => graduations);
    const shown = seen.length > 0 ? Math.max(...seen) : (rests.at(-1) ?? 0);
    return {
      at,
      spot: from.spot,
      turned: passes.length > 0,
      passes: passes.length,
      reached: passes.length === 0 || moments.some(({ plungerMm }) => plungerMm > 0),
      shown,
      rests,
      noted: entries
        .filter(({ action }) => action.type === 'note')
        .flatMap(({ step }) => step.moments.at(-1)?.graduations ?? [])
        .filter((stood) => Math.abs(stood - shown) >= 2),
    };
  });
}

/** A visit to a place in the cylinder that the sheet asks for. */
export interface PlaceVisit extends Visit {
  readonly depthMm: number;
  readonly level: BoreLevel;
  readonly axis: BoreAxis;
  /** Was it deep enough, and not too deep, for its level? */
  readonly onIt: boolean;
}

export function placesOf(bench: BoreBench, visits: readonly Visit[]): PlaceVisit[] {
  return visits.flatMap((visit) => {
    const { spot } = visit;
    if (spot.in !== 'cylinder') return [];
    const { depthMm, axis } = spot;
    return { ...visit, depthMm, axis, ...levelAt(bench.travel, depthMm) };
  });
}

/**
 * The visit that a line of the sheet was written from: at its level and on its axis, of those the last within two graduations of
 * what is written; else the last that was rocked at the right depth; else the last.
 */
export function visitFor(
  places: readonly PlaceVisit[],
  level: BoreLevel,
  axis: BoreAxis,
  written: number | null,
): PlaceVisit | null {
  const own = places.filter((one) => one.level === level && one.axis === axis);
  const near = own.filter(({ shown }) => written !== null && Math.abs(shown - written) <= 2);
  const good = own.filter(({ turned, onIt }) => turned && onIt);
  return near.at(-1) ?? good.at(-1) ?? own.at(-1) ?? null;
}
