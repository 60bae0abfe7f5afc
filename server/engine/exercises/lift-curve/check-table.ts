import { wrapDegrees } from '../../angles.ts';
import { CYCLE_DEG } from '../../drive/firing.ts';
import { type Check, failed, passed } from '../../grading/tally.ts';
import type { NamedMistake, Stop } from '../../grading/types.ts';
import { type MatchedPoint, offOf, type Rest } from './match-points.ts';

const HAIR = 1e-6;
/** A mistake is named of a table when it explains so much of what is off. Common practice, no source. */
const MOST_OF_THEM = 0.7;

interface TableChecks {
  readonly checks: readonly Check[];
  readonly mistakes: readonly NamedMistake[];
  readonly stops: readonly Stop[];
}

/**
 * The table's lines against what their own gauge showed where the crank stood: within one graduation full, two half, else none. All that
 * is off is said once, with the one mistake that explains most of it.
 */
export function checkTable(
  points: readonly MatchedPoint[],
  rests: readonly Rest[],
  worth: number,
  perTurn: number,
): TableChecks {
  const about = { position: 1, at: rests[0]?.at ?? null };
  if (points.length === 0)
    return {
      checks: [failed('reading', worth, { code: 'table-blank', ...about })],
      mistakes: [],
      stops: [],
    };
  const each = worth / points.length;
  const unseen = points.filter(({ rest }) => rest === null);
  const off = points.filter((point) => Math.abs(offOf(point) ?? 0) > 1 + HAIR);
  const sizes = off.map((point) => Math.abs(offOf(point) ?? 0));
  const half = sizes.filter((size) => size <= 2 + HAIR).length;
  const right = points.length - unseen.length - off.length;
  const checks: Check[] = right === 0 ? [] : [passed('reading', right * each)];
  if (off.length > 0) {
    const values = { off: off.length, of: points.length, mostGraduations: tenth(Math.max(...sizes)) };
    const worthOff = off.length * each;
    checks.push(failed('reading', worthOff, { code: 'points-off', ...about, values }, half / 2 / off.length));
  }
  if (unseen.length > 0) {
    const values = { unseen: unseen.length, of: points.length };
    checks.push(failed('reading', unseen.length * each, { code: 'points-never-shown', ...about, values }));
  }
  const turns = off.map((point) => wholeTurns(offOf(point) ?? 0, perTurn)).filter((count) => count !== 0);
  return {
    checks,
    mistakes: nameOf(off, unseen, rests, perTurn).map((mistakes) => ({
      position: 1,
      reading: null,
      how: mistakes.length === 1 ? 'one' : mistakes.length === 2 ? 'either' : 'unexplained',
      mistakes,
      offGraduations: null,
      at: about.at,
    })),
    stops: turns
      .slice(0, 1)
      .map((count) => ({ code: 'whole-turn-error', ...about, values: { wholeTurns: count } })),
  };
}

const tenth = (value: number) => Math.round(10 * value) / 10;

/** Whole turns that a line is off; 0 where it is off by anything else. */
function wholeTurns(off: number, perTurn: number): number {
  const turns = Math.round(off / perTurn);
  return Math.abs(off - turns * perTurn) <= 2 + HAIR ? turns : 0;
}

/** What each mistake would have made one write where the gauge showed so many graduations. */
function likely(shown: number, perTurn: number): readonly (readonly [string, number])[] {
  const turns = Math.floor(shown / perTurn);
  const pointer = shown - turns * perTurn;
  return [
    ...Array.from(
      { length: Math.max(0, turns) },
      (_, n) => ['missed-turn', shown - (n + 1) * perTurn] as const,
    ),
    ['extra-turn', shown + perTurn],
    ['wrong-way', turns * perTurn + perTurn - pointer],
    ['doubled', 2 * shown],
    ['halved', shown / 2],
    ['decimal-place', 10 * shown],
    ['decimal-place', shown / 10],
  ];
}

/** The one or two mistakes that explain most of the lines that are off; an empty list where none does. */
function nameOff(off: readonly MatchedPoint[], perTurn: number): string[][] {
  if (off.length === 0) return [];
  const counts = new Map<string, number>();
  for (const { lift, rest } of off) {
    const fits = likely(rest?.shown ?? 0, perTurn).filter(([, value]) => Math.abs(value - lift) <= 1 + HAIR);
    for (const mistake of new Set(fits.map(([name]) => name)))
      counts.set(mistake, (counts.get(mistake) ?? 0) + 1);
  }
  const most = Math.max(0, ...counts.values());
  if (most < MOST_OF_THEM * off.length) return [[]];
  const best = [...counts].filter(([, count]) => count === most).map(([name]) => name);
  return [best.length <= 2 ? best : []];
}

/** What all that is off has in common: degrees of the cam for those of the crank first, for then no line is where it says. */
function nameOf(
  off: readonly MatchedPoint[],
  unseen: readonly MatchedPoint[],
  rests: readonly Rest[],
  perTurn: number,
): string[][] {
  const wrong = [...off, ...unseen];
  const asCam = wrong.filter(({ crankDeg, lift }) =>
    rests.some(
      ({ wheelDeg, shown }) =>
        Math.abs(wrapDegrees(wheelDeg - 2 * crankDeg, CYCLE_DEG)) <= 1 && Math.abs(shown - lift) <= 1 + HAIR,
    ),
  );
  if (wrong.length >= 3 && asCam.length >= MOST_OF_THEM * wrong.length) return [['crank-and-cam']];
  return nameOff(off, perTurn);
}
