import { graduationsPerTurn } from '../../dial/dial.ts';
import { camInCrankDeg } from '../../drive/backlash.ts';
import { isStiff, leakedCharge, runsBy } from '../../drive/effort.ts';
import { chanceFor } from '../../random.ts';
import { followCam, restMm } from '../../tappet/height.ts';
import { toMm } from '../../units.ts';
import { type CamLiftBench, lobeAt } from './bench.ts';
import {
  camSurfaceMm,
  effortOf,
  freePlungerMm,
  type Moment,
  momentAt,
  momentOf,
  scatterScale,
  withPassScatter,
} from './perceive.ts';
import { type CamLiftState, TAPPET_OUT, type TappetState, turnedState } from './state.ts';
import type { CamLiftAction, CannotWhy, NoteBox, Perception } from './types.ts';

/** What one action did: the next state, what is perceived, and every moment on the way, hidden things included. */
export interface Step {
  readonly state: CamLiftState;
  readonly said: readonly Perception[];
  readonly moments: readonly Moment[];
}

/** Most degrees of crank in one action: two whole cycles. */
export const MOST_DEGREES = 1440;
const DEFAULT_SPEED = 20;

/**
 * One action of the log. Whatever a student sends, however odd, is a finding and never an exception: an action that cannot
 * be done leaves the bench as it was and says why. The state given is left alone.
 */
export function stepCamLift(bench: CamLiftBench, before: CamLiftState, action: CamLiftAction): Step {
  const state = { ...before, actions: before.actions + 1 };
  if (typeof action !== 'object' || action === null) return cannot(bench, state, 'unknown-action');
  switch (action.type) {
    case 'move':
      return move(bench, state, action.position);
    case 'seat':
      return state.position === null
        ? cannot(bench, state, 'choose-a-position')
        : seat(bench, state, state.position);
    case 'turn-tappet':
      return turnTappet(bench, state);
    case 'press':
      return press(bench, state);
    case 'preload':
      return preload(bench, state, action.turns);
    case 'lift-tip':
      return liftTip(bench, state);
    case 'zero':
      return zero(bench, state);
    case 'clamp':
      return state.indicator === null
        ? cannot(bench, state, 'indicator-is-off')
        : still(bench, { ...state, clamped: true }, { code: 'bezel-clamped' });
    case 'unclamp':
      return state.indicator === null
        ? cannot(bench, state, 'indicator-is-off')
        : still(bench, { ...state, clamped: false }, { code: 'bezel-free' });
    case 'bar':
      return bar(bench, state, action);
    case 'note':
      return isNote(action) ? still(bench, state, { code: 'noted' }) : cannot(bench, state, 'unknown-action');
    default:
      return unknownAction(bench, state, action);
  }
}

/** The compiler refuses a new kind of action without a case above; a log from elsewhere may still hold one. */
function unknownAction(bench: CamLiftBench, state: CamLiftState, _action: never): Step {
  return cannot(bench, state, 'unknown-action');
}

const BOXES: readonly NoteBox[] = ['counterBefore', 'counterHigh', 'turns', 'pointer', 'lift', 'returned'];

/** Does a note name a reading and a box of the sheet? */
export function isNote({ reading, box }: Extract<CamLiftAction, { type: 'note' }>): boolean {
  return [1, 2].includes(reading) && BOXES.includes(box);
}

function still(bench: CamLiftBench, state: CamLiftState, ...said: Perception[]): Step {
  return { state, said, moments: [momentOf(bench, state)] };
}

function cannot(bench: CamLiftBench, state: CamLiftState, why: CannotWhy): Step {
  return still(bench, state, { code: 'cannot', why });
}

/** The set-up starts afresh at another pump position; the crank stays where it is. */
function move(bench: CamLiftBench, state: CamLiftState, position: number): Step {
  if (!Number.isInteger(position) || bench.lobes[position - 1] === undefined)
    return cannot(bench, state, 'no-such-position');
  const moved = {
    ...state,
    position,
    tappet: TAPPET_OUT,
    indicator: null,
    clamped: false,
    zeroedAtCrankDeg: null,
  };
  return still(bench, moved, { code: 'moved', position });
}

function seat(bench: CamLiftBench, state: CamLiftState, position: number): Step {
  const { tappet: truth } = lobeAt(bench, position);
  const again = state.tappet.in;
  const slotOnPin = state.tappet.slotOnPin || truth.fault !== 'slot-off-pin';
  // A dull stop gives way to a second push; a slot off its pin never does.
  const hungMm = !slotOnPin || (truth.fault === 'dull-stop' && !again) ? truth.hungMm : 0;
  const heightMm = restMm(camSurfaceMm(bench, position, state.camCrankDeg), hungMm);
  const seated = takeOffIndicator({ ...state, tappet: { in: true, slotOnPin, hungMm, heightMm } });
  return still(bench, seated, { code: !slotOnPin ? 'far-up' : hungMm > 0 ? 'dull-stop' : 'metal-on-metal' });
}

/** Nothing can be done to the tappet from above with the indicator standing on it. */
function takeOffIndicator(state: CamLiftState): CamLiftState {
  return { ...state, indicator: null, clamped: false, zeroedAtCrankDeg: null };
}

function turnTappet(bench: CamLiftBench, state: CamLiftState): Step {
  if (state.position === null) return cannot(bench, state, 'choose-a-position');
  if (!state.tappet.in) return cannot(bench, state, 'tappet-is-out');
  const found = !state.tappet.slotOnPin;
  const hungMm = found ? 0 : state.tappet.hungMm;
  const heightMm = found ? camSurfaceMm(bench, state.position, state.camCrankDeg) : state.tappet.heightMm;
  const turned = takeOffIndicator({ ...state, tappet: { in: true, slotOnPin: true, hungMm, heightMm } });
  return still(bench, turned, { code: found ? 'slot-finds-pin' : 'turns-freely' });
}

/** Pressing brings a hung or stuck tappet down on the cam, except one whose slot is off its pin. */
function press(bench: CamLiftBench, state: CamLiftState): Step {
  if (!state.tappet.in) return cannot(bench, state, 'tappet-is-out');
  const hungMm = state.tappet.slotOnPin ? 0 : state.tappet.hungMm;
  const heightMm = restMm(camSurfaceMm(bench, state.position, state.camCrankDeg), hungMm);
  const dropped = heightMm < state.tappet.heightMm - 1e-9;
  const pressed = touchBezel(bench, { ...state, tappet: { ...state.tappet, hungMm, heightMm } }, 0.5);
  const code =
    state.indicator === null
      ? dropped
        ? 'tappet-drops'
        : 'pointer-holds'
      : dropped
        ? 'pointer-drops'
        : 'pointer-holds';
  return slide(bench, state, pressed, { code });
}

/** From one place of the pointer to another at one crank angle, with enough moments between to count turns by. */
function slide(bench: CamLiftBench, from: CamLiftState, to: CamLiftState, ...said: Perception[]): Step {
  const start = momentOf(bench, from);
  const end = momentOf(bench, to);
  const { dial } = bench;
  return { state: to, said, moments: [...between(start, end, toMm(dial.rangePerTurn, dial.unit)), end] };
}

const NONE: readonly Moment[] = [];

/** Moments that fill a jump, at most a fifth of a turn apart. */
function between(start: Moment, end: Moment, turnMm: number): readonly Moment[] {
  const parts = Math.ceil(Math.abs(end.plungerMm - start.plungerMm) / (turnMm / 5));
  if (parts <= 1) return NONE;
  const mix = (a: number, b: number, share: number) => a + (b - a) * share;
  return Array.from({ length: parts - 1 }, (_, index) => {
    const share = (index + 1) / parts;
    return {
      ...end,
      tappetMm: mix(start.tappetMm, end.tappetMm, share),
      plungerMm: mix(start.plungerMm, end.plungerMm, share),
      graduations: mix(start.graduations, end.graduations, share),
      counterTurns: mix(start.counterTurns, end.counterTurns, share),
    };
  });
}

function preload(bench: CamLiftBench, state: CamLiftState, turns: number): Step {
  if (state.position === null) return cannot(bench, state, 'choose-a-position');
  if (!state.tappet.in) return cannot(bench, state, 'tappet-is-out');
  if (!Number.isFinite(turns)) return cannot(bench, state, 'not-a-number');
  const { dial } = bench;
  if (turns < 0 || turns * dial.rangePerTurn > dial.travel) return cannot(bench, state, 'too-far');
  const setUps = state.setUps + 1;
  const chance = chanceFor(bench.seed, `set-up/${state.position}/${setUps}`);
  const scale = 1 + scatterScale(bench, chance.normal(0, 0.4));
  // A hand on an arm sets a turn to within a few hundredths; with no preload the tip just touches.
  const plungerMm =
    turns === 0 ? 0 : Math.max(0, turns + chance.uniform(-0.06, 0.06)) * toMm(dial.rangePerTurn, dial.unit);
  const touching = withPassScatter(bench, {
    ...state,
    setUps,
    indicator: { standMm: 0, scale, pass: Number.NaN, passScale: 0 },
    clamped: false,
    zeroedAtCrankDeg: null,
  });
  // Taken off first where it stood before; then the tip just touches, then the arm is let down.
  const touchMm = -freePlungerMm(touching);
  const touches = standAt(touching, touchMm);
  const off = slide(bench, state, touches);
  const down = slide(bench, touches, standAt(touching, touchMm + plungerMm), { code: 'indicator-set' });
  return { ...down, moments: [...off.moments, ...down.moments] };
}

function standAt(state: CamLiftState, standMm: number): CamLiftState {
  return state.indicator === null ? state : { ...state, indicator: { ...state.indicator, standMm } };
}

function liftTip(bench: CamLiftBench, state: CamLiftState): Step {
  if (state.indicator === null) return cannot(bench, state, 'indicator-is-off');
  const { dial } = bench;
  const graduationMm = toMm(dial.graduation, dial.unit);
  const tipLifts = state.tipLifts + 1;
  const here = momentOf(bench, state);
  if (here.plungerMm <= graduationMm)
    return still(bench, { ...state, tipLifts }, { code: 'nothing-to-lift' });
  const chance = chanceFor(bench.seed, `tip/${state.setUps}/${tipLifts}`);
  const shiftMm = chance.normal(0, 0.08) * graduationMm;
  const back = touchBezel(bench, standAt({ ...state, tipLifts }, state.indicator.standMm + shiftMm), 0.3);
  const turnMm = toMm(dial.rangePerTurn, dial.unit);
  const raisedMm = Math.max(0, here.plungerMm - 1.2 * turnMm);
  const perTurn = graduationsPerTurn(dial);
  const down = (here.plungerMm - raisedMm) / turnMm;
  const up: Moment = {
    ...here,
    plungerMm: raisedMm,
    graduations: here.graduations - down * perTurn,
    counterTurns: here.counterTurns - down,
  };
  const end = momentOf(bench, back);
  return {
    state: back,
    said: [{ code: 'tip-comes-back' }],
    moments: [...between(here, up, turnMm), up, ...between(up, end, turnMm), end],
  };
}

function zero(bench: CamLiftBench, state: CamLiftState): Step {
  if (state.indicator === null) return cannot(bench, state, 'indicator-is-off');
  if (state.clamped) return cannot(bench, state, 'bezel-is-clamped');
  const faceTurn = state.faceTurn + momentOf(bench, state).graduations;
  return still(bench, { ...state, faceTurn, zeroedAtCrankDeg: state.crankDeg }, { code: 'bezel-at-zero' });
}

/** An unclamped bezel turns when it is touched or shaken: 0.3 to 1.5 graduations, one way for each set-up. */
function touchBezel(bench: CamLiftBench, state: CamLiftState, probability: number): CamLiftState {
  if (state.clamped || state.indicator === null) return state;
  const bezelTouches = state.bezelTouches + 1;
  const way = chanceFor(bench.seed, `bezel-way/${state.setUps}`).chance(0.5) ? 1 : -1;
  const chance = chanceFor(bench.seed, `bezel-touch/${state.setUps}/${bezelTouches}`);
  const moves = chance.chance(probability);
  return { ...state, bezelTouches, faceTurn: state.faceTurn + (moves ? way * chance.uniform(0.3, 1.5) : 0) };
}

function bar(
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
    state = stopAtTravelEnd(bench, turned.state);
    if (state !== turned.state) sayOnce(said, 'hard-stop');
    const isStiffNow = isStiff(compression, crankDeg, state.charge, direction);
    if (isStiffNow && !stiff) {
      sayOnce(said, 'compression');
      state = touchBezel(bench, state, 0.5);
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
  const state = withPassScatter(bench, turnedState(before, crankDeg, camCrankDeg, charge, tappet));
  return { state, camMm, clicked };
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

/** Past the end of its travel the plunger moves the stand, for good: the zero is lost by as much. */
function stopAtTravelEnd(bench: CamLiftBench, state: CamLiftState): CamLiftState {
  if (state.indicator === null) return state;
  const overMm = freePlungerMm(state) - toMm(bench.dial.travel, bench.dial.unit);
  if (overMm <= 1e-9) return state;
  return standAt(state, state.indicator.standMm - overMm);
}

function tipIsOff(state: CamLiftState): boolean {
  return state.indicator !== null && freePlungerMm(state) < 0;
}
