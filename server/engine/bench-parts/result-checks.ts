import { wrapDegrees } from '../angles.ts';
import { type Check, failed, passed } from '../grading/tally.ts';
import type { NamedMistake, Stop } from '../grading/types.ts';
import type { ItemEvidence, Result } from './grade.ts';
import { nameTogether } from './name-together.ts';

type Naming = Pick<NamedMistake, 'how' | 'mistakes'>;

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
 * The boxes of an item against what its own gauge showed: within one graduation (or the box's own) full points, two half, else none. What is
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
  const together = namedTogether(item.results, perTurn);
  const each = item.results.map((result) =>
    checkResult(item, result, points * result.share, perTurn, together),
  );
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
  together: ReadonlyMap<Result, Naming>,
): OneCheck {
  const { name, written, shown, from } = result;
  const position = item.item;
  const at = item.run?.at ?? null;
  const fail = (code: string, values = {}, met = 0): OneCheck => ({
    check: failed('reading', worth, { code, position, at, values: { box: name, ...values } }, met),
  });
  if (written === null) return fail('result-not-written');
  // Nothing to hold it against: what it should have been worked out from is blank, or was never measured.
  const workedOut = from === 'written' || from === 'ratio' || from === 'degrees';
  if (shown === null) return fail(workedOut ? 'result-from-nothing' : 'result-never-shown');
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
    return { check, mistake: { position, reading: null, ...nameFrom(result), offGraduations: null, at } };
  }
  if (from === 'ratio') {
    if (size <= 1 + HAIR) return { check: passed('reading', worth) };
    const { check } = fail('ratio-not-worked-out', {
      written: written / 100,
      right: Math.round(shown) / 100,
    });
    return { check, mistake: { position, reading: null, ...nameFrom(result), offGraduations: null, at } };
  }
  const within = result.within ?? 1;
  // A sum has no scatter: it may be rounded to half a graduation.
  if (size <= (from === 'written' ? within / 2 : within) + HAIR) return { check: passed('reading', worth) };
  const offGraduations = Math.round(off * 10) / 10;
  const code = from === 'written' ? 'result-not-worked-out' : 'result-off';
  const { check } = fail(code, { offGraduations }, from === 'gauge' && size <= 2 * within + HAIR ? 0.5 : 0);
  const naming = together.get(result) ?? nameFrom(result);
  const mistake: NamedMistake = { position, reading: null, ...naming, offGraduations, at };
  const wholeTurns = Math.round(off / perTurn);
  if (wholeTurns === 0 || Math.abs(off - wholeTurns * perTurn) > 2 * within + HAIR) return { check, mistake };
  return { check, mistake, stop: { code: 'whole-turn-error', position, at, values: { wholeTurns } } };
}

/** Names a mistake only where what it would have made one write is what was written, to a graduation; two as either and or. */
function nameFrom(result: Result): Naming {
  const near = (result.likely ?? []).filter(
    ({ graduations }) =>
      Math.abs(graduations - (result.written ?? Number.NaN)) <= (result.within ?? 1) + HAIR,
  );
  const mistakes = [...new Set(near.map(({ mistake }) => mistake))];
  const how = mistakes.length === 1 ? 'one' : mistakes.length === 2 ? 'either' : 'unexplained';
  return { how, mistakes: how === 'unexplained' ? [] : mistakes };
}

/** The namings of the boxes that are explained together. */
function namedTogether(results: readonly Result[], perTurn: number): ReadonlyMap<Result, Naming> {
  const read = results.flatMap((result) => {
    const { written, shown, misread } = result;
    return written === null || shown === null || misread === undefined
      ? []
      : [{ result, box: { written, shown }, misread }];
  });
  const [first] = read;
  if (first === undefined) return new Map();
  const named = nameTogether(
    read.map(({ box }) => box),
    first.misread,
    perTurn,
  );
  return new Map(
    read.flatMap(({ result }, index) => (named[index] ? [[result, named[index]] as const] : [])),
  );
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
