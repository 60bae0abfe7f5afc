import { keptIn } from '../models/kept.ts';
import { type SpokenFace, type SpokenSample, spokenAtRest, spokenPassings } from '../models/spoken.ts';

/** So long must the pointer have stood before its place is said: barring goes on in short pulls. */
const REST_MS = 700;

/**
 * Says what the dial shows for those who can't see it, when it is switched on: each passing of zero, and where the hands stand at rest.
 * Never a sum: counting is the student's.
 */
export class SpokenDial {
  readonly #dial: HTMLElement;
  readonly #place: HTMLElement | null;
  readonly #button: HTMLButtonElement | null;
  readonly #kept = keptIn<boolean>('dialbench:spoken');
  #last: SpokenSample | null = null;
  #timer = 0;

  constructor(root: HTMLElement) {
    this.#dial = root.querySelector<HTMLElement>('dial-face') ?? root;
    this.#place = root.querySelector('#spoken');
    this.#button = root.querySelector<HTMLButtonElement>('#speak');
    const { pointer, counter } = this.#drawing()?.dataset ?? {};
    if (pointer !== undefined)
      this.#last = { pointer: Number(pointer), counter: counter ? Number(counter) : null };
    this.#show(this.#kept.read() === true);
    this.#button?.addEventListener('click', () => {
      const on = !this.#isOn();
      this.#kept.write(on);
      this.#show(on);
      if (on) this.#sayRest();
    });
  }

  /** A run was played, and this is where it came to rest. */
  ran(samples: readonly SpokenSample[], rest: SpokenSample | null): void {
    // A single sample is no movement: the bezel may have been turned under the pointer.
    const run = this.#last === null || samples.length < 2 ? samples : [this.#last, ...samples];
    this.#last = rest;
    if (!this.#isOn() || rest === null) return;
    for (const { words } of spokenPassings(run, this.#face())) this.#say(words);
    window.clearTimeout(this.#timer);
    this.#timer = window.setTimeout(() => this.#sayRest(), REST_MS);
  }

  #sayRest(): void {
    if (this.#last === null) return;
    const words = spokenAtRest(this.#last, this.#face());
    // What stands as it stood, with nothing passed since, is no news.
    if (this.#place?.lastElementChild?.textContent !== words) this.#say(words);
  }

  #say(words: string): void {
    if (this.#place === null) return;
    const line = document.createElement('p');
    line.textContent = words;
    this.#place.append(line);
    // A log that grows for half an hour helps nobody.
    while (this.#place.childElementCount > 8) this.#place.firstElementChild?.remove();
    this.#place.scrollTop = this.#place.scrollHeight;
  }

  #face(): SpokenFace {
    const said = this.#drawing()?.dataset;
    return {
      graduations: Number(said?.graduations ?? 100),
      counterTurns: Number(said?.counterTurns ?? 0),
      numeralStep: Number(said?.numeralStep ?? 10),
      balanced: said?.balanced === 'true',
    };
  }

  #drawing(): SVGSVGElement | null {
    return this.#dial.querySelector<SVGSVGElement>('svg.dial-drawing');
  }

  #isOn(): boolean {
    return this.#button?.getAttribute('aria-pressed') === 'true';
  }

  #show(on: boolean): void {
    this.#button?.setAttribute('aria-pressed', String(on));
    if (this.#place !== null) this.#place.hidden = !on;
  }
}
