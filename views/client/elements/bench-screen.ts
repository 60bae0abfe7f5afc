import { crankTransform, effortTransform, effortWord } from '../../drawing/index.ts';
import { barredWords } from '../models/bar-words.ts';
import type { DialSample } from '../models/interpolate.ts';
import type { DialFace } from './dial-element.ts';

/** What the page is told of one action: the same as the engine's `seen`, with its words. */
export interface SeenAction {
  readonly samples: readonly DialSample[];
  readonly words: readonly string[];
  readonly now: {
    readonly position: number | null;
    readonly indicator: 'on' | 'off';
    readonly faceTurn: number;
    readonly clamped: boolean;
    readonly barredDeg: number | null;
    readonly sample: DialSample;
  };
}

/** The moving half of the bench page: dial, crank, effort, and what is said. */
export class BenchScreen {
  readonly #root: HTMLElement;
  readonly #dial: DialFace;
  readonly #said: HTMLElement;
  readonly #barred: HTMLElement;

  constructor(root: HTMLElement) {
    this.#root = root;
    this.#dial = need<DialFace>(root, 'dial-face');
    this.#said = need(root, '#said');
    this.#barred = need(root, '#barred');
    this.#barred.textContent = barredWords(numberOrNull(this.#barred.dataset.barred));
    this.#dial.addEventListener('dial-frame', (event) =>
      this.#moveCrank((event as CustomEvent<DialSample>).detail),
    );
  }

  /** Plays what was seen over a time and leaves the dial as it stands now. */
  async play(seen: SeenAction, durationMs: number): Promise<void> {
    const { now, samples } = seen;
    this.say(seen.words);
    this.#dial.show({ faceTurn: now.faceTurn, clamped: now.clamped });
    if (samples.length > 1) await this.#dial.play(samples, durationMs);
    this.#rest(now);
  }

  say(words: readonly string[]): void {
    if (words.length > 0) this.#said.textContent = words.join(' ');
  }

  #rest(now: SeenAction['now']): void {
    const { pointer, counter, plungerMm } = now.sample;
    this.#dial.show({ pointer, counter, plungerMm, faceTurn: now.faceTurn, clamped: now.clamped });
    this.#moveCrank(now.sample);
    this.#barred.textContent = barredWords(now.barredDeg);
    this.#root.dataset.position = now.position === null ? '' : String(now.position);
    this.#root.dataset.indicator = now.indicator;
    this.#root.dataset.clamped = String(now.clamped);
    const drawing = this.#dial.querySelector<SVGSVGElement>('svg.dial-drawing');
    if (drawing !== null) drawing.dataset.indicator = now.indicator;
  }

  #moveCrank({ crankDeg, effort }: DialSample): void {
    const set = (part: string, transform: string) =>
      this.#root.querySelector(`[data-part="${part}"]`)?.setAttribute('transform', transform);
    const write = (part: string, text: string) => {
      const place = this.#root.querySelector(`[data-part="${part}"]`);
      if (place !== null && place.textContent !== text) place.textContent = text;
    };
    set('mark', crankTransform(crankDeg));
    write('degrees', `${Math.round(((crankDeg % 360) + 360) % 360) % 360}°`);
    set('effort', effortTransform(effort));
    write('effort-word', effortWord(effort));
  }
}

/** The one element of that kind; the view promises that it is there. */
export function need<E extends Element>(root: ParentNode, selector: string): E {
  const found = root.querySelector<E>(selector);
  if (found === null) throw new Error(`The page has no ${selector}`);
  return found;
}

function numberOrNull(text: string | undefined): number | null {
  return text === undefined || text === '' ? null : Number(text);
}
