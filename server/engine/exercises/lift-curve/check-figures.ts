import type { Result } from '../../bench-parts/grade.ts';
import { usualMisreadings } from '../../bench-parts/result-checks.ts';
import { convertLength } from '../../units.ts';
import { nearestTo } from './nearest.ts';
import { type CurveTable, crossingOf, crossingWithinDeg, eventOf } from './table.ts';
import type { LiftCurveBench, LiftCurveSheet } from './types.ts';

/** Shares of the reading points; the table itself has the other half. Common practice, no source. */
const SHARE = { lift: 0.1, high: 2 / 30, opens: 2 / 30, closes: 2 / 30, width: 3 / 30, centre: 3 / 30 };
/** A sum has no scatter: it may be rounded to half a degree. */
const SUM_DEG = 0.5;

/**
 * The figures of the sheet against the student's own table, carried through: a table that is wrong has been paid for. The width is held against
 * the opening and closing written, the centre against those too; where they are blank against the table.
 */
export function figuresOf(
  bench: LiftCurveBench,
  sheet: LiftCurveSheet,
  table: CurveTable | null,
  highestShown: number,
): Result[] {
  const { dial, checking } = bench;
  const height = convertLength(checking.lift, checking.unit, dial.unit) / dial.graduation;
  const lift = sheet.maximumLift === null ? null : sheet.maximumLift / dial.graduation;
  const ofTable = table?.highest ?? null;
  // Who watched the pointer between two lines may well have seen it higher than either.
  const highest =
    lift !== null && ofTable !== null && Math.abs(lift - highestShown) < Math.abs(lift - ofTable)
      ? highestShown
      : ofTable;
  const degrees = (
    name: string,
    written: number | null,
    shown: number | null,
    withinDeg: number,
    share: number,
    likely: readonly (readonly [string, number | null])[],
  ): Result => ({
    name,
    written,
    shown: shown === null || written === null ? shown : nearestTo(written, shown),
    share,
    from: 'degrees',
    withinDeg,
    likely: likely.flatMap(([mistake, deg]) =>
      deg === null ? [] : [{ mistake, graduations: written === null ? deg : nearestTo(written, deg) }],
    ),
  });
  const sides = ([-1, 1] as const).map((side) => {
    const found = table === null ? null : crossingOf(table, height, side);
    const written = side < 0 ? sheet.opensDeg : sheet.closesDeg;
    const others = otherHeights(bench, table).map(
      (other) =>
        ['other-height', table === null ? null : (crossingOf(table, other, side)?.deg ?? null)] as const,
    );
    return degrees(
      side < 0 ? 'opens' : 'closes',
      written,
      found?.deg ?? null,
      crossingWithinDeg(found?.gapDeg ?? 0),
      side < 0 ? SHARE.opens : SHARE.closes,
      [...others, ['crank-and-cam', found === null ? null : found.deg / 2]],
    );
  });
  const { opensDeg, closesDeg } = sheet;
  const event = table === null ? null : eventOf(table, height);
  const carried = opensDeg !== null && closesDeg !== null;
  const width = carried ? nearestTo(event?.widthDeg ?? 180, closesDeg - opensDeg) : (event?.widthDeg ?? null);
  const centre = carried ? opensDeg + (width ?? 0) / 2 : (event?.centreDeg ?? null);
  const half = table === null ? null : (table.highToDeg - table.highFromDeg) / 2;
  const high = table === null || half === null ? null : table.highFromDeg + half;
  const within = carried ? SUM_DEG : crossingWithinDeg(event?.opens.gapDeg ?? 0);
  return [
    {
      name: 'maximum-lift',
      written: lift,
      shown: highest,
      share: SHARE.lift,
      from: 'written',
      likely: highest === null ? [] : usualMisreadings(highest),
    },
    degrees('high-point', sheet.highPointDeg, high, (half ?? 0) + SUM_DEG, SHARE.high, [
      ['crank-and-cam', high === null ? null : high / 2],
    ]),
    ...sides,
    degrees('width', sheet.widthDeg, width, within, SHARE.width, [
      ['crank-and-cam', width === null ? null : width / 2],
      ['crank-and-cam', width === null ? null : 2 * width],
      ...otherHeights(bench, table).map(
        (other) =>
          ['other-height', table === null ? null : (eventOf(table, other)?.widthDeg ?? null)] as const,
      ),
    ]),
    degrees('centre', sheet.centreDeg, centre, within, SHARE.centre, [
      ['high-point-for-centre', sheet.highPointDeg ?? high],
      ['crank-and-cam', centre === null ? null : centre / 2],
    ]),
  ];
}

/** Other heights at which an event is often taken: where it just begins, 1 mm for 0.050 in and the other way round, 0.100 in, half the lift. In graduations. */
function otherHeights({ dial }: LiftCurveBench, table: CurveTable | null): number[] {
  const { unit, graduation } = dial;
  const other = unit === 'in' ? convertLength(1, 'mm', 'in') : convertLength(0.05, 'in', 'mm');
  const tenth = convertLength(0.1, 'in', unit);
  return [1, other / graduation, tenth / graduation, (table?.highest ?? 0) / 2];
}
