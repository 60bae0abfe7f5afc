import { graduationMm } from '../../bench-parts/gauge.ts';
import { OWN_SET_UP } from '../../bench-parts/set-up-checks.ts';
import { type Check, failed, passed } from '../../grading/tally.ts';
import { FULL_POINTS, type NamedMistake } from '../../grading/types.ts';
import type { MatchedPoint, Rest, Zero } from './match-points.ts';
import { type CurveTable, eventOf } from './table.ts';
import type { LiftCurveBench } from './types.ts';
import { heightAtCam } from './work.ts';

/** Points of the criterion, of 20. Common practice, no source. */
const WORTH = { spread: 8, flanks: 4, forward: 5, back: 3 };
/** Every few degrees; the wheel is read to half a degree at either end. */
const EVERY_DEG = 10.5;
/** On the flanks, where a straight line between two points would otherwise leave the curve by more than half a graduation. */
const FLANK_DEG = 6.5;
/** Common practice, no source: go back so far that the play is surely out again. */
const BACK_DEG = 30;
const POINTER_DEG = 1;

/** The kind's own set-up: zero on the base circle, five parts, and the wheel's pointer, three. */
export function checkOwnSetUp(bench: LiftCurveBench, zero: Zero | null, at: number | null): Check[] {
  const points = FULL_POINTS.setUp * OWN_SET_UP;
  if (zero === null) return [failed('setUp', points, { code: 'never-zeroed', position: 1, at })];
  const { camCrankDeg, pointerOffDeg } = zero.state;
  const offGraduations = heightAtCam(bench, camCrankDeg) / graduationMm(bench);
  const own = (share: number, isRight: boolean, code: string, values: Readonly<Record<string, number>>) =>
    isRight
      ? passed('setUp', points * share)
      : failed('setUp', points * share, { code, position: 1, at: zero.at, values });
  const lastOffDeg = zero.entries.at(-1)?.step.state.pointerOffDeg ?? pointerOffDeg;
  const offDeg = Math.round(10 * Math.abs(lastOffDeg)) / 10;
  return [
    own(5 / 8, offGraduations <= 0.5, 'zero-off-the-base-circle', {
      offGraduations: Math.round(10 * offGraduations) / 10,
    }),
    own(3 / 8, offDeg <= POINTER_DEG, 'wheel-off', { offDeg }),
  ];
}

interface Procedure {
  readonly checks: readonly Check[];
  readonly mistakes: readonly NamedMistake[];
}

/** Enough points, read coming forward, and zero seen again. `height` of the event in graduations. */
export function checkProcedure(
  zero: Zero | null,
  rests: readonly Rest[],
  points: readonly MatchedPoint[],
  table: CurveTable | null,
  height: number,
): Procedure {
  if (zero === null || rests.length === 0)
    return {
      checks: [failed('procedure', FULL_POINTS.procedure, { code: 'never-moved', position: 1, at: null })],
      mistakes: [],
    };
  const backing = checkForward(zero, points);
  return {
    checks: [...checkSpread(zero, table, height), backing.check, checkBack(zero, rests)],
    mistakes: backing.mistakes,
  };
}

function checkSpread(zero: Zero, table: CurveTable | null, height: number): Check[] {
  const fail = (worth: number, code: string, values = {}) =>
    failed('procedure', worth, { code, position: 1, at: zero.at, values });
  const event = table === null ? null : eventOf(table, height);
  if (table === null || event === null) return [fail(WORTH.spread + WORTH.flanks, 'event-not-covered')];
  const { points } = table;
  const gaps = points.slice(1).flatMap(({ crankDeg }, index) => {
    const before = points[index]?.crankDeg ?? crankDeg;
    return crankDeg > event.opens.deg && before < event.closes.deg ? [crankDeg - before] : [];
  });
  const widest = Math.max(...gaps);
  const onFlank = Math.max(event.opens.gapDeg, event.closes.gapDeg);
  return [
    widest <= EVERY_DEG
      ? passed('procedure', WORTH.spread)
      : fail(WORTH.spread, 'points-too-far-apart', { gapDeg: Math.round(widest) }),
    onFlank <= FLANK_DEG
      ? passed('procedure', WORTH.flanks)
      : fail(WORTH.flanks, 'flank-too-thin', { gapDeg: Math.round(onFlank) }),
  ];
}

/** What was read with the play not taken up, where that made half a graduation or more. */
function checkForward(
  zero: Zero,
  points: readonly MatchedPoint[],
): { check: Check; mistakes: readonly NamedMistake[] } {
  const backing = points.filter(({ rest }) => rest !== null && rest.lagGraduations >= 0.5);
  if (backing.length > 0) {
    const lagDeg = Math.max(...backing.map(({ rest }) => rest?.lagDeg ?? 0));
    const values = { lines: backing.length, lagDeg: Math.round(10 * lagDeg) / 10 };
    const at = backing[0]?.rest?.at ?? zero.at;
    return {
      check: failed('procedure', WORTH.forward, { code: 'read-while-backing', position: 1, at, values }),
      mistakes: [
        {
          position: 1,
          reading: null,
          how: 'one',
          mistakes: ['read-while-backing'],
          offGraduations: null,
          at,
        },
      ],
    };
  }
  const little = littleBack(zero);
  if (little === null) return { check: passed('procedure', WORTH.forward), mistakes: [] };
  const values = { backDeg: Math.round(little.backDeg) };
  const remark = { code: 'backed-up-a-little', position: 1, at: little.at, values };
  return { check: failed('procedure', WORTH.forward, remark, 0.5), mistakes: [] };
}

/** The first time the crank was barred back by less than it should be and forward again; null where it never was. */
function littleBack({ entries }: Zero): { at: number; backDeg: number } | null {
  let backDeg = 0;
  for (const { at, action } of entries) {
    if (action.type !== 'bar') continue;
    if (action.degrees < 0) backDeg -= action.degrees;
    else if (action.degrees > 0) {
      if (backDeg > 0 && backDeg < BACK_DEG) return { at, backDeg };
      backDeg = 0;
    }
  }
  return null;
}

/** Stopped on the base circle again, after the highest place that was stopped at. */
function checkBack(zero: Zero, rests: readonly Rest[]): Check {
  const highest = Math.max(...rests.map(({ heightGraduations }) => heightGraduations));
  const after = rests.slice(rests.findIndex(({ heightGraduations }) => heightGraduations === highest));
  if (highest > 0.5 && after.some(({ heightGraduations }) => heightGraduations <= 0.5))
    return passed('procedure', WORTH.back);
  return failed('procedure', WORTH.back, { code: 'not-back-on-base-circle', position: 1, at: zero.at });
}
