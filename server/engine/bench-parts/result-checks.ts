import { wrapDegrees } from '../angles.ts';
import { type Check, failed, passed } from '../grading/tally.ts';
import type { NamedMistake, Stop } from '../grading/types.ts';
import type { ItemEvidence, Result } from './grade.ts';

/** Binary rounding of a length divided by its graduation. */
const HAIR = 1e-6;
/** A high spot is found by eye to this many degrees for full points, to twice as many for half. Common practice, no source. */
const SPOT_DEG = 20;

interface ResultChecks {
  readonly checks: readonly Check[];
  readonly mistakes: readonly NamedMistake[];
  readonly stops: readonly Stop[];
}

/**
 * The boxes of an item against what its own gauge showed: within one graduation full points, two half, else none. What is
 * worked out is held against what was written, carried through. A line filled without a measurement is a stop, once.
 */
export function checkResults<S, A>(item: ItemEvidence<S, A>, points: number, perTurn: number): ResultChecks {
  const position = item.item;
  const at = item.run?.at ?? null;
  const read = item.results.filter(({ from }) => from === 'gauge' || from === 'angle');
  const unmeasured = read.length > 0 && read.every(({ shown }) => shown === null);
  if (unmeasured && item.results.some(({ written }) => written !== null)) {
    return {
      checks: [failed('reading', points, { code: 'result-without-measurement', position, at })],
      mistakes: [
        { position, reading: null, how: 'one', mistakes: ['nothing-measured'], offGraduations: null, at },
      ],
      stops: [{ code: 'reading-without-measurement', position, at, values: { barred: item.run !== null } }],
    };
  }
  const each = item.results.map((result) => checkResult(item, result, points * result.share, perTurn));
  return {
    checks: each.map(({ check }) => check),
    mistakes: each.flatMap(({ mistake }) => mistake ?? []),
    stops: each.flatMap(({ stop }) => stop ?? []).slice(0, 1),
  };
}

interface OneCheck {
  readonly check: Check;
  readonly mistake?: NamedMistake;
  readonly stop?: Stop;
}

function checkResult<S, A>(
  item: ItemEvidence<S, A>,
  result: Result,
  worth: number,
  perTurn: number,
): OneCheck {
  const { name, written, shown, from } = result;
  const position = item.item;
  const at = item.run?.at ?? null;
  const fail = (code: string, values = {}, met = 0): OneCheck => ({
    check: failed('reading', worth, { code, position, at, values: { box: name, ...values } }, met),
  });
  if (written === null) return fail('result-not-written');
  // Nothing to hold it against: what it should have been worked out from is blank, or was never measured.
  if (shown === null)
    return fail(from === 'written' || from === 'degrees' ? 'result-from-nothing' : 'result-never-shown');
  if (from === 'angle') {
    const offDeg = Math.abs(wrapDegrees(written - shown, 360));
    if (offDeg <= SPOT_DEG) return { check: passed('reading', worth) };
    return fail('high-spot-off', { offDeg: Math.round(offDeg) }, offDeg <= 2 * SPOT_DEG ? 0.5 : 0);
  }
  const off = written - shown;
  const size = Math.abs(off);
  if (from === 'degrees') {
    const withinDeg = result.withinDeg ?? 0;
    if (size <= withinDeg + HAIR) return { check: passed('reading', worth) };
    const met = size <= 2 * withinDeg + HAIR ? 0.5 : 0;
    const { check } = fail('degrees-off', { offDeg: Math.round(off * 10) / 10 }, met);
    return { check, mistake: nameFrom(result, position, null, at) };
  }
  // A sum has no scatter: it may be rounded to half a graduation.
  if (size <= (from === 'written' ? 0.5 : 1) + HAIR) return { check: passed('reading', worth) };
  const offGraduations = Math.round(off * 10) / 10;
  const code = from === 'written' ? 'result-not-worked-out' : 'result-off';
  const { check } = fail(code, { offGraduations }, from === 'gauge' && size <= 2 + HAIR ? 0.5 : 0);
  const mistake = nameFrom(result, position, offGraduations, at);
  const wholeTurns = Math.round(off / perTurn);
  if (wholeTurns === 0 || Math.abs(off - wholeTurns * perTurn) > 2 + HAIR) return { check, mistake };
  return { check, mistake, stop: { code: 'whole-turn-error', position, at, values: { wholeTurns } } };
}

/** Names a mistake only where what it would have made one write is what was written, to a graduation; two as either and or. */
function nameFrom(
  result: Result,
  position: number,
  offGraduations: number | null,
  at: number | null,
): NamedMistake {
  const near = (result.likely ?? []).filter(
    ({ graduations }) => Math.abs(graduations - (result.written ?? Number.NaN)) <= 1 + HAIR,
  );
  const mistakes = [...new Set(near.map(({ mistake }) => mistake))];
  const how = mistakes.length === 1 ? 'one' : mistakes.length === 2 ? 'either' : 'unexplained';
  return {
    position,
    reading: null,
    how,
    mistakes: how === 'unexplained' ? [] : mistakes,
    offGraduations,
    at,
  };
}

/**
 * What the usual misreadings would have made of a shown movement, in graduations: half or twice it (the value of a graduation or a
 * turn), and the decimal point one place out either way.
 */
export function usualMisreadings(
  shown: number,
): { readonly mistake: string; readonly graduations: number }[] {
  return [
    { mistake: 'halved', graduations: shown / 2 },
    { mistake: 'doubled', graduations: 2 * shown },
    { mistake: 'decimal-place', graduations: shown * 10 },
    { mistake: 'decimal-place', graduations: shown / 10 },
  ];
}
