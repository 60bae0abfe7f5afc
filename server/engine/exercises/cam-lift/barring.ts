import { camInCrankDeg } from '../../drive/backlash.ts';
import { isStiff, leakedCharge, runsBy } from '../../drive/effort.ts';
import { toMm } from '../../units.ts';
import type { CamLiftBench } from './bench.ts';
import { CamRide, sayOnce } from './cam-ride.ts';
import { touchBezel } from './indicator-actions.ts';
import { type Detail, keeperOf } from './keep-moments.ts';
import { between, cannot, type Step, still } from './moments.ts';
import { effortOf, type Moment, momentAt } from './perceive.ts';
import { shakeStand } from './rig-actions.ts';
import { type CamLiftState, turnedState } from './state.ts';
import type { CamLiftAction, Perception } from './types.ts';

/** Most degrees of crank in one action: two whole cycles. */
export const MOST_DEGREES = 1440;
const DEFAULT_SPEED = 20;

export function bar(
  bench: CamLiftBench,
  state: CamLiftState,
  action: Extract<CamLiftAction, { type: 'bar' }>,
  detail: Detail,
): Step {
  const { degrees, hold = null } = action;
  const speed = action.speed ?? DEFAULT_SPEED;
  if (![degrees, speed, hold ?? 0].every(Number.isFinite) || speed <= 0 || (hold ?? 0) < 0)
    return cannot(bench, state, 'not-a-number');
  if (Math.abs(degrees) > MOST_DEGREES) return cannot(bench, state, 'too-far');
  const barred = turnCrank(bench, { ...state, held: true }, degrees, speed, detail);
  if (hold === null) return barred;
  const after = letGo(bench, barred.state, hold, detail);
  return {
    state: after.state,
    said: [...barred.said, ...after.said],
    moments: [...barred.moments, ...after.moments],
  };
}

/** Let go after holding still: gas that has not leaked away moves the engine, back before top dead centre, on after it. */
function letGo(bench: CamLiftBench, held: CamLiftState, holdSeconds: number, detail: Detail): Step {
  const { compression } = bench;
  const charge = leakedCharge(compression, held.crankDeg, held.crankDeg, held.charge, holdSeconds);
  const byDeg = runsBy(compression, held.crankDeg, charge);
  const free = { ...held, charge, held: false };
  if (byDeg === 0) return still(bench, free, { code: 'let-go' });
  const run = turnCrank(bench, free, byDeg, 60, detail);
  const degrees = Math.round(Math.abs(byDeg));
  return {
    state: run.state,
    said: [...run.said, { code: byDeg < 0 ? 'rolled-back' : 'ran-on', degrees }],
    moments: run.moments,
  };
}

/** Turns the crank at most a degree at a time, everything that hangs on it following. */
function turnCrank(
  bench: CamLiftBench,
  start: CamLiftState,
  degrees: number,
  speed: number,
  detail: Detail,
): Step {
  const direction = degrees < 0 ? -1 : 1;
  const { compression } = bench;
  const turnMm = toMm(bench.dial.rangePerTurn, bench.dial.unit);
  const steps = Math.ceil(Math.abs(degrees));
  const seconds = steps === 0 ? 0 : Math.abs(degrees / steps) / speed;
  const keeps = keeperOf(bench, start.position, detail);
  const ride = new CamRide(bench, start);
  const said: Perception[] = [];
  let state = start;
  let { crankDeg, camCrankDeg, charge } = start;
  let stiff = isStiff(compression, crankDeg, charge, direction);
  let last = momentAt(bench, start, ride.camMm, effortOf(bench, start, degrees === 0 ? 0 : direction));
  const moments: Moment[] = [last];
  for (let n = 1; n <= steps; n += 1) {
    const beforeDeg = crankDeg;
    const saidBefore = said.length;
    crankDeg = start.crankDeg + (degrees * n) / steps;
    charge = leakedCharge(compression, beforeDeg, crankDeg, charge, seconds);
    camCrankDeg = camInCrankDeg(camCrankDeg, crankDeg, bench.backlashDeg);
    ride.turnTo(camCrankDeg, said);
    const isStiffNow = isStiff(compression, crankDeg, charge, direction);
    if (isStiffNow && !stiff) {
      sayOnce(said, 'compression');
      const turned = turnedState(state, crankDeg, camCrankDeg, charge, ride.tappet, ride.indicator);
      state = shakeStand(bench, touchBezel(bench, turned, 0.5), 0.6);
      ride.takeUp(state.indicator);
    }
    stiff = isStiffNow;
    const isWanted = n === steps || said.length > saidBefore;
    if (!isWanted && !keeps(last, crankDeg, ride.camMm, ride.plungerMm)) continue;
    state = turnedState(state, crankDeg, camCrankDeg, charge, ride.tappet, ride.indicator);
    const now = momentAt(bench, state, ride.camMm, effortOf(bench, state, direction));
    for (const moment of between(last, now, turnMm)) moments.push(moment);
    moments.push(now);
    last = now;
  }
  return { state, said, moments };
}
