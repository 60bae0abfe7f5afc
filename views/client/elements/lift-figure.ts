import {
  barTo,
  clampFigure,
  FIGURE_DEG,
  type Figure,
  startFigure,
  zeroFigure,
} from '../models/lift-figure.ts';
import { answerOf, cutawayOf, readoutsOf } from '../models/lift-figure-parts.ts';
import { DialFace } from './dial-element.ts';

/** How fast the figure follows the slider, in degrees of crank a second: slow enough to count turns by. */
const FOLLOW_DEG_PER_S = 150;
/** With reduced motion it moves in steps of at most 5° of crank, so that turns can still be counted. */
const STEP_DEG = 5;
const STEP_MS = 80;

/**
 * `<lift-figure>`: the server has drawn it standing still; this lets the reader turn the crank. Cam, tappet, rod, plunger, pointer and
 * small hand move together because all of them are read from one engine, the one that practice engines run on.
 */
export class LiftFigure extends HTMLElement {
  #figure: Figure = startFigure();
  #target = 0;
  #frame = 0;
  #last = 0;
  #slider: HTMLInputElement | null = null;

  connectedCallback(): void {
    if (!this.#slider) this.#addControls();
    this.#paint();
  }

  disconnectedCallback(): void {
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
  }

  #addControls(): void {
    const controls = document.createElement('div');
    controls.className = 'lift-controls no-print';
    controls.innerHTML =
      '<label class="lift-slide" for="lift-slider"><span>Turn the crank</span>' +
      `<input type="range" id="lift-slider" min="0" max="${FIGURE_DEG}" step="1" value="0"></label>` +
      '<div class="button-grid">' +
      '<button type="button" class="button bench" data-do="back">Bar 10° back</button>' +
      '<button type="button" class="button bench" data-do="forward">Bar 10° forward</button>' +
      '<button type="button" class="button plain bench" data-do="zero">Turn bezel to zero</button>' +
      '<button type="button" class="button plain bench" data-do="clamp" aria-pressed="false">Clamp</button>' +
      '<button type="button" class="button plain bench" data-do="again">Start again</button>' +
      '<button type="button" class="button plain bench" data-do="answer" aria-pressed="false" aria-controls="lift-answer">Show the answer</button>' +
      '</div><p class="lift-answer" id="lift-answer" role="status" hidden></p>';
    this.append(controls);
    this.#slider = controls.querySelector('input');
    this.#slider?.addEventListener('input', () => this.#goTo(Number(this.#slider?.value)));
    controls.addEventListener('click', (event) => {
      const button = event.target instanceof Element ? event.target.closest<HTMLElement>('[data-do]') : null;
      if (button) this.#press(button.dataset.do ?? '');
    });
  }

  #press(what: string): void {
    if (what === 'forward') this.#goTo(this.#target + 10);
    else if (what === 'back') this.#goTo(this.#target - 10);
    else if (what === 'answer') this.#showAnswer();
    else if (what === 'again') this.#restart();
    else {
      this.#figure = what === 'zero' ? zeroFigure(this.#figure) : clampFigure(this.#figure);
      this.#paint();
    }
  }

  #restart(): void {
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
    this.#figure = startFigure();
    this.#target = 0;
    this.#paint();
  }

  #showAnswer(): void {
    const answer = this.#answer();
    if (!answer) return;
    answer.hidden = !answer.hidden;
    const button = this.querySelector('[data-do="answer"]');
    button?.setAttribute('aria-pressed', String(!answer.hidden));
    this.#paint();
  }

  #goTo(deg: number): void {
    this.#target = Math.min(Math.max(deg, 0), FIGURE_DEG);
    if (this.#slider) this.#slider.value = String(this.#target);
    if (this.#frame !== 0) return;
    this.#last = performance.now();
    this.#frame = requestAnimationFrame((now) => this.#follow(now));
  }

  #follow(now: number): void {
    const still = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
    const passed = Math.max(0, now - this.#last);
    const most = still
      ? passed >= STEP_MS
        ? STEP_DEG
        : 0
      : (Math.min(passed, 100) / 1000) * FOLLOW_DEG_PER_S;
    if (most > 0) {
      this.#last = now;
      const way = this.#target - this.#figure.barredDeg;
      this.#figure = barTo(
        this.#figure,
        this.#figure.barredDeg + Math.sign(way) * Math.min(Math.abs(way), most),
      );
    }
    const arrived = this.#figure.barredDeg === this.#target;
    if (most > 0) this.#paint(!arrived);
    this.#frame = arrived ? 0 : requestAnimationFrame((next) => this.#follow(next));
  }

  /** Puts everything where the figure stands. The spoken answer waits until it stands still. */
  #paint(moving = false): void {
    const { view } = this.#figure;
    const { pointer, counter, plungerMm } = view.sample;
    const dial = this.querySelector('dial-face');
    if (dial instanceof DialFace)
      dial.show({ pointer, counter, plungerMm, faceTurn: view.faceTurn, clamped: view.clamped });
    const cutaway = this.querySelector('[data-drawing="cutaway"]');
    if (cutaway) cutaway.innerHTML = cutawayOf(this.#figure);
    const readouts = readoutsOf(this.#figure);
    for (const { name, text } of readouts) {
      const cell = this.querySelector(`[data-read="${name}"]`);
      if (cell) cell.textContent = text;
    }
    this.querySelector('[data-do="clamp"]')?.setAttribute('aria-pressed', String(view.clamped));
    const zero = this.querySelector('[data-do="zero"]');
    zero?.setAttribute('aria-disabled', String(view.clamped));
    if (this.#slider) {
      const words = readouts.map(({ label, text }) => `${label} ${text}`).join(', ');
      if (!moving) this.#slider.value = String(Math.round(this.#target));
      this.#slider.setAttribute('aria-valuetext', words);
    }
    const answer = this.#answer();
    if (answer && !answer.hidden && !moving) answer.textContent = answerOf(this.#figure);
  }

  #answer(): HTMLElement | null {
    return this.querySelector('#lift-answer');
  }
}

/** Makes `<lift-figure>` known to the page; calling it twice does no harm. */
export function defineLiftFigure(): void {
  if (!customElements.get('lift-figure')) customElements.define('lift-figure', LiftFigure);
}
