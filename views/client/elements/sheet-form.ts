import { keptIn } from '../models/kept.ts';
import type { SentAction } from '../models/sent-action.ts';
import { postJson } from '../models/talk.ts';
import { need } from './need.ts';

export interface SheetParts {
  readonly attemptId: string;
  readonly csrf: string;
  /** A box was written that the log tells of. */
  wrote(note: SentAction): void;
  /** Resolves when everything done at the engine is saved. */
  settled(): Promise<void>;
  tell(state: 'saved' | 'saving' | 'away' | 'refused', message?: string): void;
}

const PAUSE_MS = 500;
const AGAIN_MS = 3000;

/**
 * The lab sheet beside the bench: shows one part's boxes at a time, and keeps what is typed on the server, or in the browser as
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

  /** Shows one part of the sheet. */
  show(part: string): void {
    const parts = [...this.#form.querySelectorAll<HTMLElement>('[data-part-boxes]')];
    if (!parts.some(({ dataset }) => dataset.partBoxes === part)) return;
    for (const one of parts) one.hidden = one.dataset.partBoxes !== part;
    for (const button of this.#form.querySelectorAll<HTMLButtonElement>('[data-show-part]'))
      button.setAttribute('aria-pressed', String(button.dataset.showPart === part));
  }

  #wireSwitch(): void {
    for (const button of this.#form.querySelectorAll<HTMLButtonElement>('[data-show-part]'))
      button.addEventListener('click', () => this.show(button.dataset.showPart ?? ''));
    // A box that could not be read must be seen: the first such part is shown.
    const first =
      this.#form.querySelector<HTMLElement>('[data-part-boxes]:has(.has-problem)') ??
      this.#form.querySelector<HTMLElement>('[data-part-boxes]');
    if (first !== null) this.show(first.dataset.partBoxes ?? '');
    for (const link of document.querySelectorAll<HTMLAnchorElement>('.problem-summary a[href^="#"]')) {
      link.addEventListener('click', () => {
        const part = document.getElementById(link.hash.slice(1))?.closest<HTMLElement>('[data-part-boxes]');
        if (part) this.show(part.dataset.partBoxes ?? '');
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

  /** What stands in the boxes now. */
  typed(): Record<string, string> {
    const typed: Record<string, string> = {};
    for (const [name, value] of new FormData(this.#form)) {
      if (name !== '_csrf' && typeof value === 'string' && value.length <= 60) typed[name] = value;
    }
    return typed;
  }

  #changed(): void {
    this.#kept.write(this.typed());
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
    const typed = this.typed();
    const result = await postJson(`/attempts/${this.#parts.attemptId}/draft`, this.#parts.csrf, { typed });
    this.#sending = false;
    if (result.how === 'done') {
      if (JSON.stringify(this.typed()) === JSON.stringify(typed)) this.#kept.write(null);
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
    if (target.dataset.note !== undefined) this.#parts.wrote(JSON.parse(target.dataset.note) as SentAction);
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
