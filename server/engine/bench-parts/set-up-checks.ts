import { type Check, failed, passed } from '../grading/tally.ts';
import { toMm } from '../units.ts';
import { turnsIn } from './gauge.ts';
import type { GaugeRun, Zeroed } from './log.ts';
import type { GaugedBench, GaugeState, Work } from './types.ts';

/** Shares of the set-up points; the kind's own check has the rest, 8 of 30. Common practice, no source. */
const WORTH = { wiped: 5 / 30, linedUp: 5 / 30, preload: 5 / 30, tip: 4 / 30, clamp: 3 / 30 };
export const OWN_SET_UP = 8 / 30;
/** The same for a gauge in the hand, which has nothing to line up and no tip to try. */
export const OWN_IN_HAND = OWN_SET_UP + WORTH.linedUp + WORTH.tip;

const PRELOAD_TURNS = 0.25;
/** A hand sets a quarter turn to within this much. */
const HAND_TURNS = 0.08;
const TIP_LIFTS = 3;

interface SetUpEvidence<S, A> {
  readonly item: number;
  readonly run: GaugeRun<S, A> | null;
  readonly zeroed: Zeroed<S, A> | null;
  /** Largest movement shown, in graduations: what a lean has to work on. */
  readonly movementGraduations: number;
}

/**
 * How the gauge was set up for an item, check by check; `points` are those of the criterion for the item, of which the kind's own
 * check has `OWN_SET_UP` besides, or `OWN_IN_HAND`.
 */
export function checkGaugeSetUp<
  B extends GaugedBench,
  S extends GaugeState,
  A extends { readonly type: string },
>(work: Work<B, S, A>, bench: B, evidence: SetUpEvidence<S, A>, points: number): Check[] {
  const { item, run, zeroed } = evidence;
  if (run === null) {
    const worth = points * (1 - (work.inHand ? OWN_IN_HAND : OWN_SET_UP));
    return [failed('setUp', worth, { code: 'nothing-set-up', position: item, at: null })];
  }
  const state = zeroed?.state ?? run.entries.at(-1)?.step.state;
  const fail = (worth: number, code: string, at: number, values = {}, met = 0) =>
    failed('setUp', points * worth, { code, position: item, at, values }, met);
  return [
    state?.wiped === true
      ? passed('setUp', points * WORTH.wiped)
      : fail(WORTH.wiped, work.inHand ? 'contacts-not-wiped' : 'base-not-wiped', run.at),
    ...(work.inHand
      ? []
      : [
          checkLinedUp(work, evidence, state, points * WORTH.linedUp),
          checkTip(item, run, zeroed, points * WORTH.tip),
        ]),
    checkPreload(bench, item, run, points * WORTH.preload, work.inHand === true),
    checkClamp(item, run, zeroed, points * WORTH.clamp),
  ];
}

/** Lined up or not, points are lost only where the lean costs half a graduation or more. */
function checkLinedUp<B extends GaugedBench, S extends GaugeState, A>(
  work: Work<B, S, A>,
  { item, run, movementGraduations }: SetUpEvidence<S, A>,
  state: S | undefined,
  worth: number,
): Check {
  const leanDeg = state?.stand?.leanDeg ?? 0;
  if (state === undefined || leanDeg === 0) return passed('setUp', worth);
  const offGraduations = Math.abs(movementGraduations * (1 - 1 / work.leanFactor(leanDeg, state)));
  const values = { leanDeg: Math.round(leanDeg), offGraduations: Math.round(offGraduations * 10) / 10 };
  return failed(
    'setUp',
    worth,
    { code: 'not-lined-up', position: item, at: run?.at ?? null, values },
    offGraduations < 0.5 ? 1 : 0,
  );
}

/** A gauge in the hand comes out of one place to go into the next: its plunger is out in between. */
function checkPreload<S, A>(
  bench: GaugedBench,
  item: number,
  run: GaugeRun<S, A>,
  worth: number,
  inHand: boolean,
): Check {
  const fail = (code: string, at: number, turns: number) =>
    failed('setUp', worth, { code, position: item, at, values: { turns: Math.round(turns * 100) / 100 } });
  const setAtMm = run.entries[0]?.step.moments.at(-1)?.plungerMm ?? 0;
  let deepestMm = setAtMm;
  for (const { at, action, step } of run.entries.slice(1)) {
    if (isTipLift(action)) continue;
    for (const { plungerMm } of step.moments) {
      if (plungerMm <= 0 && !inHand) return fail('tip-left', at, turnsIn(bench, setAtMm));
      deepestMm = Math.max(deepestMm, plungerMm);
    }
  }
  if (turnsIn(bench, setAtMm) < PRELOAD_TURNS - HAND_TURNS)
    return fail('little-preload', run.at, turnsIn(bench, setAtMm));
  const leftTurns = turnsIn(bench, toMm(bench.dial.travel, bench.dial.unit) - deepestMm);
  return leftTurns < PRELOAD_TURNS - HAND_TURNS
    ? fail('no-travel-left', run.at, leftTurns)
    : passed('setUp', worth);
}

function isTipLift(action: unknown): boolean {
  return typeof action === 'object' && action !== null && 'type' in action && action.type === 'lift-tip';
}

function checkTip<S, A>(
  item: number,
  run: GaugeRun<S, A>,
  zeroed: Zeroed<S, A> | null,
  worth: number,
): Check {
  const before = zeroed?.entries[0]?.at ?? Number.POSITIVE_INFINITY;
  const lifts = run.entries.filter(
    ({ at, step }) =>
      (at <= before || zeroed === null) && step.said.some(({ code }) => code === 'tip-comes-back'),
  ).length;
  if (lifts >= TIP_LIFTS) return passed('setUp', worth);
  const remark = { code: 'tip-not-tried', position: item, at: run.at, values: { lifts } };
  return failed('setUp', worth, remark, lifts > 0 ? 0.5 : 0);
}

/** From the first time the work was moved after the zero, the bezel must be clamped. */
function checkClamp<S extends GaugeState, A>(
  item: number,
  run: GaugeRun<S, A>,
  zeroed: Zeroed<S, A> | null,
  worth: number,
): Check {
  const worked = (zeroed?.entries ?? []).filter(({ before, step }) => before.touches !== step.state.touches);
  const loose = worked.find(({ before }) => !before.clamped);
  if (zeroed !== null && worked.length > 0 && loose === undefined) return passed('setUp', worth);
  const moved = worked.reduce(
    (most, { step }) => Math.max(most, Math.abs(step.state.faceTurn - (zeroed?.state.faceTurn ?? 0))),
    0,
  );
  const values = { movedGraduations: Math.round(moved * 10) / 10 };
  return failed('setUp', worth, {
    code: 'bezel-left-free',
    position: item,
    at: loose?.at ?? zeroed?.at ?? run.at,
    values,
  });
}
