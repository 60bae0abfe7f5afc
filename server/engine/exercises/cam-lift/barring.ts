import { camInCrankDeg } from '../../drive/backlash.ts';
import { isStiff, leakedCharge, runsBy } from '../../drive/effort.ts';
import { followCam } from '../../tappet/height.ts';
import { toMm } from '../../units.ts';
import { type CamLiftBench, lobeAt } from './bench.ts';
import { follow, freePlungerMm, heldByStop, withLooseRod, withPassScatter } from './indicator.ts';
import { touchBezel } from './indicator-actions.ts';
import { between, cannot, type Step, still } from './moments.ts';
import { camSurfaceMm, effortOf, type Moment, momentAt, momentOf } from './perceive.ts';
import { shakeStand } from './rig-actions.ts';
import { type CamLiftState, type TappetState, turnedState } from './state.ts';
import type { CamLiftAction, Perception } from './types.ts';

/** Most degrees of crank in one action: two whole cycles. */
export const MOST_DEGREES = 1440;
const DEFAULT_SPEED = 20;

export function bar(
  bench: CamLiftBench,
  state: CamLiftState,
  action: Extract<CamLiftAction, { type: 'bar' }>,
): Step {
  const { degrees, hold = null } = action;
  const speed = action.speed ?? DEFAULT_SPEED;
  if (![degrees, speed, hold ?? 0].every(Number.isFinite) || speed <= 0 || (hold ?? 0) < 0)
    return cannot(bench, state, 'not-a-number');
  if (Math.abs(degrees) > MOST_DEGREES) return cannot(bench, state, 'too-far');
  const barred = turnCrank(bench, { ...state, held: true }, degrees, speed);
  if (hold === null) return barred;
  const after = letGo(bench, barred.state, hold);
  return {
    state: after.state,
    said: [...barred.said, ...after.said],
    moments: [...barred.moments, ...after.moments],
  };
}

/** Let go after holding still: gas that has not leaked away moves the engine, back before top dead centre, on after it. */
function letGo(bench: CamLiftBench, held: CamLiftState, holdSeconds: number): Step {
  const { compression } = bench;
  const charge = leakedCharge(compression, held.crankDeg, held.crankDeg, held.charge, holdSeconds);
  const byDeg = runsBy(compression, held.crankDeg, charge);
  const free = { ...held, charge, held: false };
  if (byDeg === 0) return still(bench, free, { code: 'let-go' });
  const run = turnCrank(bench, free, byDeg, 60);
  const degrees = Math.round(Math.abs(byDeg));
  return {
    state: run.state,
    said: [...run.said, { code: byDeg < 0 ? 'rolled-back' : 'ran-on', degrees }],
    moments: run.moments,
  };
}

/** Turns the crank at most a degree at a time, everything that hangs on it following. */
function turnCrank(bench: CamLiftBench, start: CamLiftState, degrees: number, speed: number): Step {
  const direction = degrees < 0 ? -1 : 1;
  const { compression } = bench;
  const turnMm = toMm(bench.dial.rangePerTurn, bench.dial.unit);
  const steps = Math.ceil(Math.abs(degrees));
  const seconds = steps === 0 ? 0 : Math.abs(degrees / steps) / speed;
  const said: Perception[] = [];
  let state = start;
  let last = momentOf(bench, start, degrees === 0 ? 0 : direction);
  let stiff = isStiff(compression, start.crankDeg, start.charge, direction);
  let wasOff = tipIsOff(start);
  const moments: Moment[] = [last];
  for (let n = 1; n <= steps; n += 1) {
    const crankDeg = start.crankDeg + (degrees * n) / steps;
    const turned = crankTo(bench, state, crankDeg, seconds);
    if (turned.clicked) said.push({ code: 'click' });
    state = turned.state;
    if (turned.stopped) sayOnce(said, 'hard-stop');
    const isStiffNow = isStiff(compression, crankDeg, state.charge, direction);
    if (isStiffNow && !stiff) {
      sayOnce(said, 'compression');
      state = shakeStand(bench, touchBezel(bench, state, 0.5), 0.6);
    }
    stiff = isStiffNow;
    const isOff = tipIsOff(state);
    if (isOff && !wasOff) sayOnce(said, 'tip-off-the-work');
    wasOff = isOff;
    const now = momentAt(bench, state, turned.camMm, effortOf(bench, state, direction));
    for (const moment of between(last, now, turnMm)) moments.push(moment);
    moments.push(now);
    last = now;
  }
  return { state, said, moments };
}

function sayOnce(said: Perception[], code: 'hard-stop' | 'compression' | 'tip-off-the-work'): void {
  if (!said.some((one) => one.code === code)) said.push({ code });
}

/** The crank a degree or less further: gas, cam and tappet follow. */
function crankTo(bench: CamLiftBench, before: CamLiftState, crankDeg: number, seconds: number) {
  const charge = leakedCharge(bench.compression, before.crankDeg, crankDeg, before.charge, seconds);
  const camCrankDeg = camInCrankDeg(before.camCrankDeg, crankDeg, bench.backlashDeg);
  const camMm = camSurfaceMm(bench, before.position, camCrankDeg);
  const { tappet, clicked } = carryTappet(bench, before, camMm);
  const { indicator, stopped } = carryIndicator(bench, before, camCrankDeg, tappet.heightMm);
  const state = turnedState(before, crankDeg, camCrankDeg, charge, tappet, indicator);
  return { state, camMm, clicked, stopped };
}

/** The indicator rides on the tappet; at the end of its travel it moves the stand. */
function carryIndicator(bench: CamLiftBench, before: CamLiftState, camCrankDeg: number, heightMm: number) {
  if (before.indicator === null) return { indicator: null, stopped: false };
  const scattered = withPassScatter(bench, before.indicator, before, camCrankDeg);
  const carried = withLooseRod(bench, scattered, before, camCrankDeg);
  const held = heldByStop(bench, carried, heightMm);
  return { indicator: follow(bench, held, heightMm), stopped: held !== carried };
}

function carryTappet(
  bench: CamLiftBench,
  { tappet, position }: CamLiftState,
  camMm: number,
): { tappet: TappetState; clicked: boolean } {
  if (!tappet.in || position === null) return { tappet, clicked: false };
  const { sticksMm } = lobeAt(bench, position).tappet;
  const { heightMm, clicked } = followCam(tappet.heightMm, camMm, { hungMm: tappet.hungMm, sticksMm });
  if (heightMm === tappet.heightMm) return { tappet, clicked };
  return { tappet: { in: tappet.in, slotOnPin: tappet.slotOnPin, hungMm: tappet.hungMm, heightMm }, clicked };
}

function tipIsOff(state: CamLiftState): boolean {
  return state.indicator !== null && freePlungerMm(state) < 0;
}
