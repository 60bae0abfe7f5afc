import { keptIn } from '../models/kept.ts';
import { postJson } from '../models/talk.ts';
import { need } from './bench-screen.ts';

export interface SheetParts {
  readonly attemptId: string;
  readonly csrf: string;
  /** A box of a reading was written: which lobe, which reading, which box. */
  wrote(position: number, reading: number, box: string): void;
  /** Resolves when everything done at the engine is saved. */
  settled(): Promise<void>;
  tell(state: 'saved' | 'saving' | 'away' | 'refused', message?: string): void;
}

const PAUSE_MS = 500;
const AGAIN_MS = 3000;

/**
 * The lab sheet beside the bench: shows one lobe's boxes at a time, and keeps what is typed on the server, or in the browser as
 * long as the server is away.
 */
export class SheetForm {
  readonly #form: HTMLFormElement;
  readonly #parts: SheetParts;
  readonly #kept: ReturnType<typeof keptIn<Record<string, string>>>;
  #timer = 0;
  #sending = false;

  constructor(form: HTMLFormElement, parts: SheetParts) {
    this.#form = form;
    this.#parts = parts;
    this.#kept = keptIn(`dialbench:${parts.attemptId}:typed`);
    this.#bringBack();
    this.#wireSwitch();
    form.addEventListener('input', () => this.#changed());
    form.addEventListener('change', (event) => this.#wrote(event.target));
    form.addEventListener('submit', (event) => this.#submit(event));
  }

  /** Shows the boxes of one lobe. */
  show(position: number): void {
    for (const lobe of this.#form.querySelectorAll<HTMLElement>('[data-lobe-boxes]')) {
      lobe.hidden = lobe.dataset.lobeBoxes !== String(position);
    }
    for (const button of this.#form.querySelectorAll<HTMLButtonElement>('[data-lobe]')) {
      button.setAttribute('aria-pressed', String(button.dataset.lobe === String(position)));
    }
  }

  #wireSwitch(): void {
    for (const button of this.#form.querySelectorAll<HTMLButtonElement>('[data-lobe]')) {
      button.addEventListener('click', () => this.show(Number(button.dataset.lobe)));
    }
    // A box that could not be read must be seen: the first such lobe is shown.
    const first =
      this.#form.querySelector<HTMLElement>('[data-lobe-boxes]:has(.has-problem)') ??
      this.#form.querySelector<HTMLElement>('[data-lobe-boxes]');
    if (first !== null) this.show(Number(first.dataset.lobeBoxes));
    for (const link of document.querySelectorAll<HTMLAnchorElement>('.problem-summary a[href^="#"]')) {
      link.addEventListener('click', () => {
        const lobe = document.getElementById(link.hash.slice(1))?.closest<HTMLElement>('[data-lobe-boxes]');
        if (lobe) this.show(Number(lobe.dataset.lobeBoxes));
      });
    }
  }

  /** What was typed while the server was away comes back after a reload. */
  #bringBack(): void {
    const kept = this.#kept.read();
    if (kept === null) return;
    for (const [name, value] of Object.entries(kept)) {
      const field = this.#form.elements.namedItem(name);
      if (field instanceof HTMLInputElement || field instanceof HTMLSelectElement) field.value = value;
    }
    this.#changed();
  }

  #typed(): Record<string, string> {
    const typed: Record<string, string> = {};
    for (const [name, value] of new FormData(this.#form)) {
      if (name !== '_csrf' && typeof value === 'string' && value.length <= 60) typed[name] = value;
    }
    return typed;
  }

  #changed(): void {
    this.#kept.write(this.#typed());
    this.#parts.tell('saving');
    window.clearTimeout(this.#timer);
    this.#timer = window.setTimeout(() => void this.#save(), PAUSE_MS);
  }

  async #save(): Promise<void> {
    if (this.#sending) {
      this.#timer = window.setTimeout(() => void this.#save(), PAUSE_MS);
      return;
    }
    this.#sending = true;
    const typed = this.#typed();
    const result = await postJson(`/attempts/${this.#parts.attemptId}/draft`, this.#parts.csrf, { typed });
    this.#sending = false;
    if (result.how === 'done') {
      if (JSON.stringify(this.#typed()) === JSON.stringify(typed)) this.#kept.write(null);
      this.#parts.tell('saved');
    } else if (result.how === 'away') {
      this.#parts.tell('away');
      this.#timer = window.setTimeout(() => void this.#save(), AGAIN_MS);
    } else {
      this.#parts.tell('refused', result.message);
    }
  }

  #wrote(target: EventTarget | null): void {
    if (!(target instanceof HTMLInputElement) || target.value.trim() === '') return;
    const [position, reading, box] = target.name.split('.');
    if (position !== undefined && reading !== undefined && box !== undefined) {
      this.#parts.wrote(Number(position), Number(reading), box);
    }
  }

  /** The sheet goes on only when the engine's log is whole on the server. */
  #submit(event: SubmitEvent): void {
    if (this.#form.dataset.settled === 'true') return;
    event.preventDefault();
    const button = need<HTMLButtonElement>(this.#form, '.actions button');
    button.disabled = true;
    void this.#parts.settled().then(() => {
      button.disabled = false;
      this.#kept.write(null);
      this.#form.dataset.settled = 'true';
      // A form that is asked to submit while it is still telling of a submit does nothing: wait until it is done telling.
      window.setTimeout(() => this.#form.requestSubmit(), 0);
    });
  }
}
