import { graduationMm } from '../../bench-parts/gauge.ts';
import type { ItemEvidence, Result } from '../../bench-parts/grade.ts';
import { exactly } from '../../bench-parts/likely.ts';
import { graduationsPerTurn } from '../../dial/dial.ts';
import { likelyDiameters, likelyDifferences, likelyReadings } from './diagnose.ts';
import {
  AXES,
  type BoreAction,
  type BoreBench,
  type BoreLevel,
  type BoreSheet,
  type BoreState,
  LEVELS,
} from './types.ts';
import { type BoreDiameter, type BoreResults, boreResults, judgeBore } from './verdict.ts';
import { type BoreZero, type PlaceVisit, placesOf, visitFor, visitsUnder } from './visits.ts';

/** The one cylinder. */
export const ITEM = 1;
/** Shares of the reading points: six readings, six diameters, and what they come to. Common practice, no source. */
const SHARE = { reading: 0.08, diameter: 0.04, largest: 0.08, outOfRound: 0.1, taper: 0.1 };

/** A line of the sheet with the visit it was written from. */
export interface Line {
  readonly level: BoreLevel;
  readonly axis: (typeof AXES)[number];
  /** In graduations; null where blank. */
  readonly reading: number | null;
  readonly diameter: number | null;
  readonly visit: PlaceVisit | null;
}

/** The six lines of the sheet, with where the gauge was for each under a zero. */
export function linesOf(bench: BoreBench, sheet: BoreSheet, places: readonly PlaceVisit[]): Line[] {
  return LEVELS.flatMap((level) =>
    AXES.map((axis): Line => {
      const own = sheet.places.find((one) => one.level === level && one.axis === axis);
      const reading = inGraduations(bench, own?.reading ?? null);
      const diameter = inGraduations(bench, own?.diameter ?? null);
      return { level, axis, reading, diameter, visit: visitFor(places, level, axis, reading) };
    }),
  );
}

function inGraduations({ dial }: BoreBench, length: number | null): number | null {
  return length === null ? null : length / dial.graduation;
}

const sizes = (lines: readonly Line[], size: (line: Line) => number | null): BoreDiameter[] =>
  lines.flatMap((line) => {
    const diameter = size(line);
    return diameter === null ? [] : { level: line.level, axis: line.axis, diameter };
  });

/** All that log and sheet hold of the cylinder, measured under a zero. */
export function evidenceOf(
  bench: BoreBench,
  sheet: BoreSheet,
  zeros: readonly BoreZero[],
  used: BoreZero | null,
  lines: readonly Line[],
): ItemEvidence<BoreState, BoreAction> {
  const { dial } = bench;
  const ring = bench.ring / dial.graduation;
  const fromLines = boreResults(sizes(lines, ({ diameter }) => diameter));
  const fromGauge = boreResults(
    sizes(lines, ({ visit }) => (visit === null ? null : ring - Math.round(visit.shown))),
  );
  const summary = {
    largest: inGraduations(bench, sheet.largest),
    outOfRound: absolute(inGraduations(bench, sheet.outOfRound)),
    taper: absolute(inGraduations(bench, sheet.taper)),
  };
  const truth = boreResults(
    LEVELS.flatMap((level) =>
      AXES.map((axis) => ({ level, axis, diameter: bench.diametersMm[level][axis] / graduationMm(bench) })),
    ),
  );
  return {
    item: ITEM,
    run: used?.run ?? null,
    results: [...lineResults(bench, lines, ring), ...summaryResults(lines, summary, fromLines)],
    written: { verdict: sheet.verdict, next: sheet.next },
    fromWritten: isWhole(summary) ? verdictOf(bench, summary) : null,
    fromShown: fromGauge === null ? null : verdictOf(bench, fromGauge),
    truly: bench.truly,
    setUpsAgree: setUpsAgree(bench, zeros),
    truth: {
      'largest-diameter': truth?.largest ?? 0,
      'out-of-round': truth?.outOfRound ?? 0,
      taper: truth?.taper ?? 0,
    },
  };
}

function absolute(value: number | null): number | null {
  return value === null ? null : Math.abs(value);
}

function isWhole(summary: { readonly [K in keyof BoreResults]: number | null }): summary is BoreResults {
  return Object.values(summary).every((one) => one !== null);
}

function verdictOf(bench: BoreBench, { largest, outOfRound, taper }: BoreResults) {
  const inUnit = (graduations: number) => graduations * bench.dial.graduation;
  const results = { largest: inUnit(largest), outOfRound: inUnit(outOfRound), taper: inUnit(taper) };
  return judgeBore(results, bench.limits, bench.dial);
}

function lineResults(bench: BoreBench, lines: readonly Line[], ring: number): Result[] {
  const nominal = bench.nominalMm / graduationMm(bench);
  const read = lines.map(({ level, axis, reading, visit }) => ({
    ...{ level, axis, written: reading },
    ...{ shown: visit?.shown ?? null, rests: visit?.rests ?? [], noted: visit?.noted ?? [] },
  }));
  const likely = likelyReadings(read, graduationsPerTurn(bench.dial));
  return lines.flatMap(({ level, axis, reading, diameter, visit }, index): Result[] => [
    {
      name: `reading-${level}-${axis}`,
      written: reading,
      shown: visit?.shown ?? null,
      share: SHARE.reading,
      from: 'gauge',
      likely: likely[index] ?? [],
    },
    {
      name: `diameter-${level}-${axis}`,
      written: diameter,
      shown: reading === null ? null : ring - reading,
      share: SHARE.diameter,
      from: 'written',
      likely: reading === null ? [] : exactly(likelyDiameters(reading, ring, nominal), diameter),
    },
  ]);
}

function summaryResults(
  lines: readonly Line[],
  written: { readonly [K in keyof BoreResults]: number | null },
  right: BoreResults | null,
): Result[] {
  const [oval, taper] = [right?.outOfRound ?? 0, right?.taper ?? 0];
  const others = lines.flatMap(({ diameter }) =>
    diameter === null ? [] : [{ mistake: 'not-the-largest', graduations: diameter }],
  );
  return [
    {
      name: 'largest-diameter',
      written: written.largest,
      shown: right?.largest ?? null,
      share: SHARE.largest,
      from: 'written',
      likely: exactly(others, written.largest),
    },
    {
      name: 'out-of-round',
      written: written.outOfRound,
      shown: right?.outOfRound ?? null,
      share: SHARE.outOfRound,
      from: 'written',
      likely: exactly(likelyDifferences(oval, taper), written.outOfRound),
    },
    {
      name: 'taper',
      written: written.taper,
      shown: right?.taper ?? null,
      share: SHARE.taper,
      from: 'written',
      likely: exactly(likelyDifferences(taper, oval), written.taper),
    },
  ];
}

/** Two set-ups agree on every place both saw, at least three, within 0.001 in. Common practice, no source. */
function setUpsAgree(bench: BoreBench, zeros: readonly BoreZero[]): boolean {
  const within = 0.0254 / graduationMm(bench) + 1e-6;
  const seen = zeros.map((zero) => ({
    setUp: zero.run.setUp,
    places: placesOf(bench, visitsUnder(zero)).filter(({ turned, onIt }) => turned && onIt),
  }));
  return seen.some((a) =>
    seen.some((b) => {
      if (a.setUp >= b.setUp) return false;
      const apart = a.places.flatMap(({ level, axis, shown }) => {
        const other = visitFor(b.places, level, axis, null);
        return other === null ? [] : Math.abs(other.shown - shown);
      });
      return apart.length >= 3 && Math.max(...apart) <= within;
    }),
  );
}
