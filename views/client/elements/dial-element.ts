import { type DialScale, type DialStand, partTransforms } from '../../drawing/dial-geometry.ts';
import { type DialSample, sampleAt, steppedFraction, unwrapRun } from '../models/interpolate.ts';
import { liftedPart, type MovePart, movedInPlace } from './drawing-layer.ts';

/** What `show` may change; what is left out stays as it was. */
export type DialShown = Partial<DialStand>;

/** The detail of a `dial-frame` event. */
export interface DialFrame {
  readonly sample: DialSample;
  /** Of the run, 0 to 1. */
  readonly share: number;
}

/** Most degrees of crank or work in one step when the person asked for less motion: turns can still be counted. */
const STEP_DEG = 5;

/**
 * `<dial-face>`: moves the parts of the dial that the server drew inside it. It moves them and changes nothing else;
 * with the class `layered` what runs is lifted onto layers of its own.
 * While playing it sends a `dial-frame` event that tells the sample shown and the share of the run that is gone, for whatever moves along with the dial.
 */
export class DialFace extends HTMLElement {
  #stand: DialStand = { pointer: 0, counter: null, faceTurn: 0, clamped: false, plungerMm: 0 };
  #scale: DialScale = { graduations: 100, counterTurns: 0, unitsPerMm: 0 };
  /** Found once a drawing: looking for them at every frame costs more than moving them. */
  #parts = new Map<string, MovePart>();
  #frame = 0;
  #finish: (() => void) | null = null;

  connectedCallback(): void {
    this.#read();
  }

  disconnectedCallback(): void {
    this.stop();
  }

  /** Another gauge stands there now: its drawing, made by the server, takes the place of this one's. */
  redraw(svg: string): void {
    this.stop();
    this.innerHTML = svg;
    this.#read();
  }

  /** Puts the parts where they stand now. Anything playing is stopped first. */
  show(shown: DialShown): void {
    this.stop();
    this.#put(shown);
  }

  /**
   * Plays the samples at a steady crank speed over `durationMs` and resolves when the last is shown or `stop` was called. A new run
   * takes the place of one still playing. With reduced motion the pointer steps.
   */
  play(samples: readonly DialSample[], durationMs: number): Promise<void> {
    this.stop();
    const scale = this.#scale;
    const run = unwrapRun(samples, scale.graduations, scale.counterTurns);
    const stepped = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
    return new Promise((resolve) => {
      this.#finish = resolve;
      let start: number | null = null;
      const tick = (now: number): void => {
        start ??= now;
        const passed = durationMs > 0 ? Math.min((now - start) / durationMs, 1) : 1;
        const share = stepped ? steppedFraction(run, passed, STEP_DEG) : passed;
        const sample = sampleAt(run, share);
        if (sample) {
          this.#put({ pointer: sample.pointer, counter: sample.counter, plungerMm: sample.plungerMm });
          this.dispatchEvent(
            new CustomEvent<DialFrame>('dial-frame', { detail: { sample, share }, bubbles: true }),
          );
        }
        if (passed < 1 && sample) this.#frame = requestAnimationFrame(tick);
        else this.#end();
      };
      this.#frame = requestAnimationFrame(tick);
    });
  }

  /** Turns of the pointer in a run, whichever way it goes. */
  turnsOf(samples: readonly DialSample[]): number {
    const { graduations, counterTurns } = this.#scale;
    const run = unwrapRun(samples, graduations, counterTurns).samples.map(({ pointer }) => pointer);
    return (
      run.reduce((sum, pointer, at) => sum + Math.abs(pointer - (run[at - 1] ?? pointer)), 0) / graduations
    );
  }

  /** Leaves the parts where they are; the promise of the run resolves. */
  stop(): void {
    cancelAnimationFrame(this.#frame);
    this.#end();
  }

  #end(): void {
    const finish = this.#finish;
    this.#finish = null;
    finish?.();
  }

  #put(shown: DialShown): void {
    this.#stand = { ...this.#stand, ...shown };
    for (const [part, transform] of Object.entries(partTransforms(this.#scale, this.#stand))) {
      this.#part(part)(transform);
    }
  }

  #part(name: string): MovePart {
    const kept = this.#parts.get(name);
    if (kept !== undefined) return kept;
    const found = movedInPlace(this.querySelector(`[data-part="${name}"]`));
    this.#parts.set(name, found);
    return found;
  }

  /** What runs is lifted off the drawing, from the lowest, where the place on the page holds layers. */
  #lift(): void {
    if (!this.classList.contains('layered')) return;
    for (const name of ['plunger', 'counter', 'pointer']) {
      const part = this.querySelector<SVGGElement>(`[data-part="${name}"]`);
      if (part !== null) this.#parts.set(name, liftedPart(part, name === 'plunger'));
    }
  }

  /** How the server drew it. */
  #read(): void {
    this.#parts.clear();
    this.#lift();
    const said = this.querySelector<SVGSVGElement>('svg.dial-drawing')?.dataset;
    this.#stand = {
      pointer: numberIn(said?.pointer),
      counter: said?.counter ? numberIn(said.counter) : null,
      faceTurn: numberIn(said?.faceTurn),
      clamped: said?.clamped === 'true',
      plungerMm: numberIn(said?.plungerMm),
    };
    this.#scale = {
      graduations: numberIn(said?.graduations) || 100,
      counterTurns: numberIn(said?.counterTurns),
      unitsPerMm: numberIn(said?.unitsPerMm),
    };
  }
}

/** A number out of an attribute; nothing and nonsense are 0. */
function numberIn(text: string | undefined): number {
  const value = Number(text ?? 0);
  return Number.isFinite(value) ? value : 0;
}

/** Makes `<dial-face>` known to the page; calling it twice does no harm. */
export function defineDialFace(): void {
  if (!customElements.get('dial-face')) customElements.define('dial-face', DialFace);
}
