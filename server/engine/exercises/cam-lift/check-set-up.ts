import { type Check, failed, passed } from '../../grading/tally.ts';
import { displacementOf } from '../../lobe/lift-curve.ts';
import { toMm } from '../../units.ts';
import { type CamLiftBench, lobeAt } from './bench.ts';
import { checkFirm, checkSquare } from './check-rig.ts';
import { whyUnfit } from './draw-tray.ts';
import type { Run, Zeroing } from './history.ts';
import type { LobeEvidence } from './match-readings.ts';
import type { Pass } from './passes.ts';

/** Shares of a lobe's set-up points. Common practice, no source. */
const WORTH = {
  ...{ seated: 7 / 30, preload: 5 / 30, square: 2 / 30, firm: 3 / 30 },
  ...{ tip: 3 / 30, zero: 7 / 30, clamp: 3 / 30 },
};

/** Turns of the pointer that should be in at zero, and left at the top. */
const PRELOAD_TURNS = 0.25;
/** A hand sets a quarter turn to within this much, and the base circle is not quite round. */
const HAND_TURNS = 0.08;
const TIP_LIFTS = 3;

/** The set-up a lobe was measured with, check by check; `points` are those of the criterion for this lobe. */
export function checkSetUp(bench: CamLiftBench, evidence: LobeEvidence, points: number): Check[] {
  const { run, position } = evidence;
  if (run === null) return [failed('setUp', points, { code: 'no-set-up', position, at: null })];
  const pass =
    evidence.readings.flatMap((reading) => (reading.pass?.run === run ? [reading.pass] : [])).at(-1) ?? null;
  const zeroing = pass?.zeroing ?? run.zeroings.at(-1) ?? null;
  return [
    checkSeated(bench, run, zeroing, points * WORTH.seated),
    checkPreload(bench, run, zeroing, pass, points * WORTH.preload),
    checkSquare(bench, run, zeroing, points * WORTH.square),
    checkFirm(bench, run, zeroing, pass, points * WORTH.firm),
    checkTip(run, pass, points * WORTH.tip),
    checkZero(bench, run, zeroing, points * WORTH.zero),
    checkClamp(run, zeroing, pass, points * WORTH.clamp),
  ];
}

function checkSeated(bench: CamLiftBench, run: Run, zeroing: Zeroing | null, worth: number): Check {
  const { tappet } = zeroing?.state ??
    run.entries.at(-1)?.step.state ?? { tappet: { hungMm: 0, slotOnPin: true } };
  if (tappet.hungMm === 0) return passed('setUp', worth);
  const hungGraduations = Math.round(tappet.hungMm / toMm(bench.dial.graduation, bench.dial.unit));
  const code = tappet.slotOnPin ? 'tappet-hung' : 'slot-off-pin';
  return failed('setUp', worth, { code, position: run.position, at: run.at, values: { hungGraduations } });
}

function checkPreload(
  bench: CamLiftBench,
  run: Run,
  zeroing: Zeroing | null,
  pass: Pass | null,
  worth: number,
): Check {
  const { dial } = bench;
  const turnMm = toMm(dial.rangePerTurn, dial.unit);
  const fail = (code: string, at: number, turns: number) =>
    failed('setUp', worth, {
      code,
      position: run.position,
      at,
      values: { turns: Math.round(turns * 100) / 100 },
    });
  const start = zeroing?.index ?? 0;
  const atZero = run.points[start];
  if (atZero === undefined) return fail('preload-too-little', run.at, 0);
  const inTurns = atZero.plungerMm / turnMm;
  let deepestMm = atZero.plungerMm;
  for (let index = start; index <= (pass?.to ?? run.points.length - 1); index += 1) {
    const point = run.points[index];
    if (point === undefined) continue;
    if (point.plungerMm <= 0) return fail('tip-left-the-work', point.at, inTurns);
    deepestMm = Math.max(deepestMm, point.plungerMm);
  }
  if (inTurns < PRELOAD_TURNS - HAND_TURNS) return fail('preload-too-little', run.at, inTurns);
  const leftTurns = toMm(dial.travel, dial.unit) / turnMm - deepestMm / turnMm;
  // A gauge that was chosen too short has been charged for that.
  const tooShort = bench.tray.length > 0 && whyUnfit(dial, bench.specification) === 'too-short';
  if (tooShort && leftTurns < PRELOAD_TURNS) return passed('setUp', worth);
  if (leftTurns <= 0) return fail('travel-ran-out', run.at, leftTurns);
  if (leftTurns < PRELOAD_TURNS - HAND_TURNS) return fail('travel-too-little', run.at, leftTurns);
  return passed('setUp', worth);
}

function checkTip(run: Run, pass: Pass | null, worth: number): Check {
  const before =
    pass === null ? Number.POSITIVE_INFINITY : (run.points[pass.from]?.at ?? Number.POSITIVE_INFINITY);
  const lifts = run.tipLifts.filter((at) => at <= before).length;
  if (lifts >= TIP_LIFTS) return passed('setUp', worth);
  const remark = {
    code: 'tip-not-lifted',
    position: run.position,
    at: run.tipLifts.at(-1) ?? run.at,
    values: { lifts },
  };
  return failed('setUp', worth, remark, lifts > 0 ? 0.5 : 0);
}

function checkZero(bench: CamLiftBench, run: Run, zeroing: Zeroing | null, worth: number): Check {
  const { position } = run;
  if (zeroing === null) return failed('setUp', worth, { code: 'not-zeroed', position, at: run.at });
  const place = placeOfZero(bench, position, zeroing);
  if (place.where === 'base-circle') return passed('setUp', worth);
  const values = { where: place.where, aboveGraduations: Math.round(place.aboveGraduations * 10) / 10 };
  return failed('setUp', worth, { code: 'zero-off-base-circle', position, at: zeroing.at, values });
}

export interface PlaceOfZero {
  /** `tappet-up`: the cam is there, but a sticky tappet has not come down on it. */
  readonly where: 'base-circle' | 'ramp' | 'nose' | 'build-up' | 'tappet-up';
  /** Height over the lowest place of the lobe. */
  readonly aboveGraduations: number;
}

/**
 * Where on the lobe a zero was taken. Base circle: the pointer at its lowest and still within half a graduation over
 * the next 60° of crank or the last; the nose may stand still too, but short and high. Run-out may lift it by its own size.
 */
export function placeOfZero(bench: CamLiftBench, position: number, zeroing: Zeroing): PlaceOfZero {
  const truth = lobeAt(bench, position);
  const { lobe } = truth;
  const graduationMm = toMm(bench.dial.graduation, bench.dial.unit);
  const camDeg = (zeroing.state.camCrankDeg - lobe.noseCrankDeg) / 2;
  const heightMm = displacementOf(lobe);
  const hereMm = heightMm(camDeg);
  const aboveGraduations = (hereMm - truth.lowestMm) / graduationMm;
  const { tappet } = zeroing.state;
  const upGraduations = tappet.hungMm > 0 ? 0 : (tappet.heightMm - hereMm) / graduationMm;
  if (upGraduations > 0.55) return { where: 'tappet-up', aboveGraduations: aboveGraduations + upGraduations };
  const runOut = (2 * lobe.condition.runOutMm) / graduationMm;
  const stillOver = (fromDeg: number, toDeg: number) => {
    for (let deg = fromDeg; deg <= toDeg; deg += 1) {
      if (Math.abs(heightMm(camDeg + deg / 2) - hereMm) > 0.55 * graduationMm) return false;
    }
    return true;
  };
  const low = aboveGraduations <= 0.55 + runOut;
  if (low && (stillOver(0, 60) || stillOver(-60, 0))) return { where: 'base-circle', aboveGraduations };
  // Low but about to rise, or just come down: the pointer is at its lowest, the place is only badly chosen for looking.
  if (low && aboveGraduations <= 0.25 + runOut) return { where: 'base-circle', aboveGraduations };
  const share = (hereMm - truth.lowestMm) / (truth.highestMm - truth.lowestMm);
  if (share > 0.9) return { where: 'nose', aboveGraduations };
  return {
    where: lobe.condition.buildUp?.place === 'base' && share < 0.1 ? 'build-up' : 'ramp',
    aboveGraduations,
  };
}

function checkClamp(run: Run, zeroing: Zeroing | null, pass: Pass | null, worth: number): Check {
  const upAt = pass === null ? undefined : run.points[pass.from]?.at;
  const entry = run.entries.find(({ at }) => at === upAt) ?? run.entries.at(-1);
  if (entry?.before.clamped || (pass === null && entry?.step.state.clamped)) return passed('setUp', worth);
  const moved =
    zeroing === null || entry === undefined ? 0 : entry.step.state.faceTurn - zeroing.state.faceTurn;
  const values = { movedGraduations: Math.round(Math.abs(moved) * 10) / 10 };
  return failed('setUp', worth, {
    code: 'bezel-not-clamped',
    position: run.position,
    at: zeroing?.at ?? run.at,
    values,
  });
}
