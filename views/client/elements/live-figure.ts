import { beginFigure, type Control, type Given, type LiveFigure, type Shown } from '../../figures/index.ts';
import { DialFace } from './dial-element.ts';
import { setChanged } from './set-changed.ts';

/** With reduced motion a figure follows its slider in steps so long apart, and as large as it would have come in that time. */
const STEP_MS = 80;
/** A frame that comes late moves no further than this would. */
const LONGEST_MS = 100;

/**
 * `<live-figure>`: the server has drawn it standing still, with its controls; this lets the reader work it. Everything it shows is asked of
 * one figure, which runs the engine that practice engines run on.
 */
export class LiveFigureElement extends HTMLElement {
  #figure: LiveFigure | null = null;
  /** Where a slider has been put that the figure has still to follow to, by its name. */
  #targets = new Map<string, number>();
  #frame = 0;
  #last = 0;

  connectedCallback(): void {
    // Its drawing is there; the engine is started when somebody takes hold of it.
    this.addEventListener('input', this.#onInput);
    this.addEventListener('change', this.#onInput);
    this.addEventListener('click', this.#onClick);
  }

  disconnectedCallback(): void {
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
    this.removeEventListener('input', this.#onInput);
    this.removeEventListener('change', this.#onInput);
    this.removeEventListener('click', this.#onClick);
  }

  #ask(): LiveFigure {
    this.#figure ??= beginFigure(
      this.dataset.figure ?? '',
      JSON.parse(this.dataset.given ?? '{}') as Given,
      this.id,
    );
    return this.#figure;
  }

  readonly #onInput = (event: Event): void => {
    const box = event.target;
    if (!(box instanceof HTMLInputElement || box instanceof HTMLSelectElement)) return;
    const name = box.dataset.control;
    if (name === undefined || (box instanceof HTMLSelectElement && event.type === 'input')) return;
    const control = this.#control(name);
    if (control?.kind === 'slide' && control.perSecond !== undefined) this.#goTo(name, Number(box.value));
    else this.#set(name, box.value);
  };

  readonly #onClick = (event: MouseEvent): void => {
    const button = event.target instanceof Element ? event.target.closest<HTMLElement>('[data-press]') : null;
    if (button === null || button.getAttribute('aria-disabled') === 'true') return;
    this.#stop();
    const pressed = button.getAttribute('aria-pressed');
    this.#set(button.dataset.press ?? '', pressed === null ? '' : String(pressed !== 'true'));
  };

  #control(name: string): Control | undefined {
    return this.#ask()
      .show()
      .controls.find((control) => control.name === name);
  }

  #set(name: string, value: string): void {
    this.#ask().set(name, value);
    this.#paint(this.#ask().show(), false);
  }

  #goTo(name: string, to: number): void {
    this.#targets.set(name, to);
    if (this.#frame !== 0) return;
    this.#last = performance.now();
    this.#frame = requestAnimationFrame((now) => this.#follow(now));
  }

  #stop(): void {
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
    this.#targets.clear();
  }

  #follow(now: number): void {
    const stepped = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
    const passed = Math.max(0, now - this.#last);
    if (!stepped || passed >= STEP_MS) {
      this.#last = now;
      const figure = this.#ask();
      for (const control of figure.show().controls) {
        const to = this.#targets.get(control.name);
        if (to === undefined || control.kind !== 'slide') continue;
        const most = ((control.perSecond ?? 0) * Math.min(passed, LONGEST_MS)) / 1000;
        const way = to - control.value;
        const next = control.value + Math.sign(way) * Math.min(Math.abs(way), Math.max(most, control.step));
        figure.set(control.name, String(next));
        if (next === to) this.#targets.delete(control.name);
      }
      this.#paint(figure.show(), this.#targets.size > 0);
    }
    this.#frame = this.#targets.size > 0 ? requestAnimationFrame((next) => this.#follow(next)) : 0;
  }

  /** Puts everything where the figure stands. A sentence that is spoken waits until it stands still. */
  #paint(shown: Shown, moving: boolean): void {
    for (const { name, svg } of shown.drawings) {
      const place = this.querySelector(`[data-drawing="${name}"]`);
      if (place !== null) place.innerHTML = svg;
    }
    const face = this.querySelector('dial-face');
    if (shown.dial !== null && face instanceof DialFace) {
      const { pointer, counter, plungerMm, faceTurn, clamped, indicator } = shown.dial;
      face.show({ pointer, counter, plungerMm, faceTurn, clamped });
      const drawing = face.querySelector<SVGSVGElement>('svg.dial-drawing');
      if (drawing !== null) drawing.dataset.indicator = indicator;
    }
    for (const { name, label, text } of shown.reads) {
      const cell = this.querySelector(`[data-read="${name}"]`);
      if (cell === null) continue;
      if (cell.textContent !== text) cell.textContent = text;
      const word = cell.previousElementSibling;
      if (word !== null && word.textContent !== label) word.textContent = label;
    }
    for (const control of shown.controls) this.#paintControl(control, moving);
    const told = this.querySelector<HTMLElement>('.figure-told');
    if (told !== null && !moving) {
      told.hidden = shown.told === null;
      if (told.textContent !== shown.told) told.textContent = shown.told ?? '';
    }
  }

  #paintControl(control: Control, moving: boolean): void {
    if (control.kind === 'press') {
      const button = this.querySelector(`[data-press="${control.name}"]`);
      if (control.pressed !== undefined) setChanged(button, 'aria-pressed', String(control.pressed));
      if (control.off !== undefined) setChanged(button, 'aria-disabled', String(control.off));
      return;
    }
    const box = this.querySelector<HTMLInputElement | HTMLSelectElement>(`[data-control="${control.name}"]`);
    if (box === null) return;
    if (control.kind === 'choose') {
      if (box.value !== control.value) box.value = control.value;
      return;
    }
    // Whoever drags the slider keeps hold of it while the figure follows.
    if (!this.#targets.has(control.name)) box.value = String(control.value);
    const said = this.querySelector(`[data-said="${control.name}"]`);
    if (said !== null && said.textContent !== control.said) said.textContent = control.said;
    if (!moving) setChanged(box, 'aria-valuetext', control.said);
  }
}

/** Makes `<live-figure>` known to the page; calling it twice does no harm. */
export function defineLiveFigure(): void {
  if (!customElements.get('live-figure')) customElements.define('live-figure', LiveFigureElement);
}
