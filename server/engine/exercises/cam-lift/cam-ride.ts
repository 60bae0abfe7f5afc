import { clamp } from '../../angles.ts';
import { followCam, type TappetHold } from '../../tappet/height.ts';
import { toMm } from '../../units.ts';
import { type CamLiftBench, lobeAt } from './bench.ts';
import { passesOver, passScaleOf, rockedRod } from './indicator.ts';
import { surfaceOf } from './perceive.ts';
import type { CamLiftState, IndicatorState, TappetState } from './state.ts';
import { looseNow } from './state.ts';
import type { Perception } from './types.ts';

/**
 * What hangs on a cam while the crank is turned: tappet, rod, plunger and the works of the gauge. The one place of the bench that
 * changes in place, since it is carried on at every degree of crank; `tappet` and `indicator` give it back as state.
 */
export class CamRide {
  readonly #bench: CamLiftBench;
  readonly #start: CamLiftState;
  readonly #surface: (camCrankDeg: number) => number;
  readonly #passOf: (camCrankDeg: number) => number;
  readonly #rocks: boolean;
  readonly #hold: TappetHold;
  readonly #travelMm: number;
  readonly #halfHysteresisMm: number;
  #indicator: IndicatorState | null;
  #heightMm: number;
  #camMm: number;
  #pass = Number.NaN;
  #standMm = 0;
  #rodMm = 0;
  #perMm = 0;
  #worksMm = 0;
  #passScale = 0;
  #isOff = false;

  constructor(bench: CamLiftBench, start: CamLiftState) {
    const { position, tappet } = start;
    this.#bench = bench;
    this.#start = start;
    this.#surface = surfaceOf(bench, position);
    this.#passOf = passesOver(bench, position);
    this.#rocks = looseNow(bench, start) === 'rod';
    const sticksMm = position === null ? 0 : lobeAt(bench, position).tappet.sticksMm;
    this.#hold = { hungMm: tappet.hungMm, sticksMm };
    this.#travelMm = toMm(bench.dial.travel, bench.dial.unit);
    this.#halfHysteresisMm = bench.gauge.hysteresisMm / 2;
    this.#heightMm = tappet.heightMm;
    this.#camMm = this.#surface(start.camCrankDeg);
    this.#indicator = start.indicator;
    this.takeUp(start.indicator);
    this.#isOff = start.indicator !== null && this.#freeMm() < 0;
  }

  /** Surface of the cam under the tappet. */
  get camMm(): number {
    return this.#camMm;
  }

  /** Where the plunger is: held to its travel; 0 without an indicator. */
  get plungerMm(): number {
    return this.#indicator === null ? 0 : clamp(this.#freeMm(), 0, this.#travelMm);
  }

  get tappet(): TappetState {
    const { tappet } = this.#start;
    if (this.#heightMm === tappet.heightMm) return tappet;
    return { in: tappet.in, slotOnPin: tappet.slotOnPin, hungMm: tappet.hungMm, heightMm: this.#heightMm };
  }

  get indicator(): IndicatorState | null {
    if (this.#indicator === null) return null;
    const { scale, pass, factor } = this.#indicator;
    return {
      standMm: this.#standMm,
      scale,
      pass: Number.isNaN(this.#pass) ? pass : this.#pass,
      passScale: this.#passScale,
      worksMm: this.#worksMm,
      factor,
      rodMm: this.#rodMm,
    };
  }

  /** Carries on with an indicator as something else has left it. */
  takeUp(indicator: IndicatorState | null): void {
    this.#indicator = indicator;
    if (indicator === null) return;
    this.#standMm = indicator.standMm;
    this.#rodMm = indicator.rodMm;
    this.#worksMm = indicator.worksMm;
    this.#passScale = indicator.passScale;
    this.#perMm = (indicator.scale + indicator.passScale) * indicator.factor;
  }

  /** The cam in another place, a degree of crank away or less: all that hangs on it follows. What can be heard is added to `said`. */
  turnTo(camCrankDeg: number, said: Perception[]): void {
    const camMm = this.#surface(camCrankDeg);
    const pass = this.#passOf(camCrankDeg);
    // A cam as high as before moves nothing that hangs on it, unless another pass begins.
    if (camMm === this.#camMm && pass === this.#pass && !this.#rocks) return;
    this.#camMm = camMm;
    this.#carryTappet(camMm, said);
    this.#carryIndicator(pass, camCrankDeg, said);
  }

  #carryTappet(camMm: number, said: Perception[]): void {
    if (!this.#start.tappet.in || this.#start.position === null) return;
    const { heightMm, clicked } = followCam(this.#heightMm, camMm, this.#hold);
    if (clicked) said.push({ code: 'click' });
    this.#heightMm = heightMm;
  }

  #carryIndicator(pass: number, camCrankDeg: number, said: Perception[]): void {
    if (this.#indicator === null) return;
    if (pass !== this.#pass) this.#beginPass(this.#indicator, pass);
    if (this.#rocks) this.#rodMm = rockedRod(this.#bench, this.#start, camCrankDeg);
    const freeMm = this.#freeMm();
    const overMm = freeMm - this.#travelMm;
    // Past the end of its travel the plunger moves the stand, for good: the zero is lost by as much.
    if (overMm > 1e-9) {
      this.#standMm -= overMm;
      sayOnce(said, 'hard-stop');
    }
    const atMm = clamp(freeMm, 0, this.#travelMm);
    this.#worksMm = clamp(this.#worksMm, atMm - this.#halfHysteresisMm, atMm + this.#halfHysteresisMm);
    const isOff = freeMm < 0;
    if (isOff && !this.#isOff) sayOnce(said, 'tip-off-the-work');
    this.#isOff = isOff;
  }

  #beginPass({ scale, factor, pass: before }: IndicatorState, pass: number): void {
    // The pass that was under way when the crank was taken up has its scatter already.
    if (!(Number.isNaN(this.#pass) && pass === before))
      this.#passScale = passScaleOf(this.#bench, this.#start, pass);
    this.#pass = pass;
    this.#perMm = (scale + this.#passScale) * factor;
  }

  #freeMm(): number {
    return this.#standMm + this.#rodMm + this.#heightMm * this.#perMm;
  }
}

/** Something that is heard or felt once in an action, however often it happens. */
export function sayOnce(said: Perception[], code: 'hard-stop' | 'compression' | 'tip-off-the-work'): void {
  if (!said.some((one) => one.code === code)) said.push({ code });
}
