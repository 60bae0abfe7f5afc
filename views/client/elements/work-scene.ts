import type { KindName } from '../../../server/engine/index.ts';
import { sceneOf } from '../../scenes/index.ts';
import type { DialSample } from '../models/interpolate.ts';
import { inSight } from './in-sight.ts';
import { setChanged } from './set-changed.ts';

/** What the page was told of its kind and its bench. */
export interface BenchData {
  readonly brief: { readonly kind: KindName };
  readonly view: unknown;
}

/** The drawing of the work: drawn again when it stands otherwise than before, moved while an action is played. */
export class WorkScene {
  readonly #place: HTMLElement | null;
  readonly #inSight: () => boolean;
  readonly #data: BenchData;
  #view: unknown;
  #drawn = '';

  constructor(place: HTMLElement | null, data: BenchData) {
    this.#place = place;
    this.#inSight = inSight(this.#place);
    this.#data = data;
    this.#view = data.view;
  }

  /** An action begins whose end looks like this. */
  begin(view: unknown): void {
    this.#view = view;
  }

  /** One moment of the action, where it is in sight. */
  follow(sample: DialSample): void {
    if (this.#inSight()) this.#move(sample);
  }

  #move({ deg, plungerMm, effort }: DialSample): void {
    const scene = this.#scene();
    if (this.#place === null || scene === null) return;
    const moves = scene.move(this.#data.brief, this.#view, { deg, plungerMm, effort });
    for (const [part, attributes] of Object.entries(moves)) {
      const element = this.#place.querySelector(`[data-part="${part}"]`);
      if (element === null) continue;
      for (const [name, value] of Object.entries(attributes)) {
        if (name !== 'text') setChanged(element, name, value);
        else if (element.textContent !== value) element.textContent = value;
      }
    }
  }

  /** How it stands when the action is over; drawn again only where more is other than what follows the gauge. */
  rest(view: unknown, sample: DialSample | null): void {
    this.#view = view;
    const standing = JSON.stringify({ ...(view as object), sample: null });
    if (standing === this.#drawn) {
      if (sample !== null) this.#move(sample);
      return;
    }
    this.#drawn = standing;
    const scene = this.#scene();
    if (this.#place === null || scene === null) return;
    const title = this.#place.dataset.title ?? '';
    const description = scene.describe(this.#data.brief, view);
    // The markup is our own drawing of numbers and codes; what a person typed is escaped in it.
    const svg = scene.draw(this.#data.brief, view, { id: 'scene', title, description });
    this.#place.innerHTML = svg;
    this.#place.hidden = svg === '';
  }

  #scene() {
    return sceneOf(this.#data.brief.kind);
  }
}
