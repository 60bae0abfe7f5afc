import { crankTransform, effortTransform, effortWord } from '../../drawing/index.ts';
import { barredWords } from '../models/bar-words.ts';
import type { DialSample } from '../models/interpolate.ts';
import type { SectionRun } from '../models/replay-work.ts';
import type { BenchSound } from './bench-sound.ts';
import type { DialFace, DialFrame } from './dial-element.ts';
import { liftedPart, type MovePart, movedInPlace } from './drawing-layer.ts';
import { need } from './need.ts';
import { SectionView } from './section-view.ts';
import { SpokenDial } from './spoken-dial.ts';
import type { WorkScene } from './work-scene.ts';

/** How the bench stands, as the server tells it. */
export interface Stand {
  readonly sample: DialSample | null;
  readonly indicator: 'on' | 'off';
  readonly faceTurn: number;
  readonly clamped: boolean;
  readonly barredDeg: number | null;
  readonly part: string | null;
}

/** What the page is told of one action: what was perceived, in words too, and how the bench stands now. */
export interface SeenAction {
  readonly samples: readonly DialSample[];
  readonly words: readonly string[];
  readonly codes: readonly string[];
  readonly now: Stand;
  readonly view: unknown;
  /** Buttons that say something else than before. */
  readonly controls?: readonly {
    readonly id: string;
    readonly label: string;
    readonly action: unknown;
    readonly pressed: boolean;
  }[];
  /** Lists that say something else than before, or offer another thing first. */
  readonly lists?: readonly {
    readonly id: string;
    readonly label: string;
    readonly texts: readonly string[];
    readonly first: number;
  }[];
  /** The drawing of another gauge, where another stands there now. */
  readonly dial?: string;
  readonly section?: SectionRun;
}

/** The moving half of the bench page: dial, crank, effort, the work, and what is said. */
export class BenchScreen {
  readonly #root: HTMLElement;
  readonly #dial: DialFace;
  readonly #said: HTMLElement;
  readonly #barred: HTMLElement | null;
  /** Crank and effort are drawn once; only their parts move. */
  readonly #crank: ReadonlyMap<string, Element>;
  readonly #moveMark: MovePart;
  readonly #moveEffort: MovePart;
  /** When the figure of degrees may change next: a figure that runs can't be read, and costs a layout. */
  #figureDue = 0;
  readonly #scene: WorkScene;
  readonly #sound: BenchSound;
  readonly #section: SectionView;
  readonly #spoken: SpokenDial;

  constructor(root: HTMLElement, scene: WorkScene, sound: BenchSound) {
    this.#root = root;
    this.#dial = need<DialFace>(root, 'dial-face');
    this.#said = need(root, '#said');
    this.#barred = root.querySelector('#barred');
    this.#crank = new Map(
      [...root.querySelectorAll<SVGElement>('.bench-crank [data-part]')].map((part) => [
        part.dataset.part ?? '',
        part,
      ]),
    );
    [this.#moveMark, this.#moveEffort] = [this.#lifted('mark'), this.#lifted('effort')];
    this.#scene = scene;
    this.#sound = sound;
    this.#spoken = new SpokenDial(root);
    this.#section = new SectionView(root.querySelector('#section-place'));
    if (this.#barred !== null)
      this.#barred.textContent = barredWords(numberOrNull(this.#barred.dataset.barred));
    this.#dial.addEventListener('dial-frame', (event) =>
      this.#follow((event as CustomEvent<DialFrame>).detail),
    );
  }

  /** Plays what was seen over a time and leaves everything as it stands now. */
  async play(seen: SeenAction, durationMs: number): Promise<void> {
    const { now, samples } = seen;
    this.say(seen.words);
    this.#sound.play(seen.codes);
    if (seen.dial !== undefined) this.#dial.redraw(seen.dial);
    this.#dial.show({ faceTurn: now.faceTurn, clamped: now.clamped });
    this.#scene.begin(seen.view);
    this.#section.begin(seen.section);
    if (samples.length > 1) await this.#dial.play(samples, durationMs);
    this.#rest(seen);
    this.#spoken.ran(samples, now.sample);
  }

  /** How many turns the pointer makes in what was seen, whichever way. */
  turnsOf({ samples }: SeenAction): number {
    return this.#dial.turnsOf(samples);
  }

  say(words: readonly string[]): void {
    if (words.length > 0) this.#said.textContent = words.join(' ');
  }

  #rest({ now, view }: SeenAction): void {
    if (now.sample !== null) {
      const { pointer, counter, plungerMm } = now.sample;
      this.#dial.show({ pointer, counter, plungerMm, faceTurn: now.faceTurn, clamped: now.clamped });
      this.#moveCrank(now.sample, true);
    }
    this.#scene.rest(view, now.sample);
    this.#section.follow(1);
    if (this.#barred !== null) this.#barred.textContent = barredWords(now.barredDeg);
    this.#root.dataset.part = now.part ?? '';
    this.#root.dataset.indicator = now.indicator;
    this.#root.dataset.clamped = String(now.clamped);
    const drawing = this.#dial.querySelector<SVGSVGElement>('svg.dial-drawing');
    if (drawing !== null) drawing.dataset.indicator = now.indicator;
  }

  #lifted(name: string): MovePart {
    const part = this.#crank.get(name);
    return part instanceof SVGGElement ? liftedPart(part) : movedInPlace(null);
  }

  #follow({ sample, share }: DialFrame): void {
    this.#section.follow(share);
    this.#moveCrank(sample, false);
    this.#scene.follow(sample);
  }

  #moveCrank({ deg, effort }: DialSample, atRest: boolean): void {
    if (deg === null || effort === null) return;
    const write = (part: string, text: string) => {
      const place = this.#crank.get(part);
      if (place !== undefined && place.textContent !== text) place.textContent = text;
    };
    this.#moveMark(crankTransform(deg));
    this.#moveEffort(effortTransform(effort));
    if (!atRest && performance.now() < this.#figureDue) return;
    this.#figureDue = performance.now() + FIGURE_MS;
    write('degrees', `${Math.round(((deg % 360) + 360) % 360) % 360}°`);
    write('effort-word', effortWord(effort));
  }
}

/** Between one figure of degrees and the next while the crank turns. */
const FIGURE_MS = 150;

function numberOrNull(text: string | undefined): number | null {
  return text === undefined || text === '' ? null : Number(text);
}
