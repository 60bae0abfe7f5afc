import type { ActionQueue } from '../models/action-queue.ts';
import { type BenchScreen, need, type SeenAction } from './bench-screen.ts';

/** An action as it is sent; the server checks it. */
export type SentAction = { readonly type: string } & Readonly<Record<string, string | number | boolean>>;

/** Seconds of barring in one batch: short, so that little is overshot when the button comes up; long enough for a slow network. */
const BATCH_SECONDS = 0.25;
/** The engine turns slower where it is stiff: at full effort, this many times. */
const STIFF = 1.5;

const PLAY_MS: Readonly<Record<string, number>> = { preload: 700, 'lift-tip': 1100, press: 500, zero: 200 };

/** The buttons and keys at the engine. One thing at a time: whatever is asked for waits for what is going on. */
export class BenchControls {
  readonly #root: HTMLElement;
  readonly #queue: ActionQueue<SentAction, SeenAction>;
  readonly #screen: BenchScreen;
  readonly #after: (seen: SeenAction) => void;
  #going: Promise<void> = Promise.resolve();
  /** Which way the bar is being pulled: 1 clockwise, -1 back, 0 not at all. */
  #pulling: 1 | -1 | 0 = 0;
  #barring = false;

  constructor(
    root: HTMLElement,
    queue: ActionQueue<SentAction, SeenAction>,
    screen: BenchScreen,
    after: (seen: SeenAction) => void,
  ) {
    this.#root = root;
    this.#queue = queue;
    this.#screen = screen;
    this.#after = after;
    this.#wireButtons();
    this.#wireHolds();
    this.#wireKeys();
    root.dataset.busy = 'false';
  }

  /** Sends something that moves nothing on the engine, such as a note that a box was written. */
  note(action: SentAction): void {
    this.#queue.do(action).catch(() => undefined);
  }

  /** Resolves when nothing is moving any more. */
  async still(): Promise<void> {
    this.#pulling = 0;
    await this.#going;
  }

  #wireButtons(): void {
    for (const button of this.#root.querySelectorAll<HTMLButtonElement>('button[data-act]')) {
      button.addEventListener('click', () => this.#enqueue(() => this.#perform(this.#actionOf(button))));
    }
    for (const button of this.#root.querySelectorAll<HTMLButtonElement>('button[data-step]')) {
      button.addEventListener('click', () => this.#step(Number(button.dataset.step)));
    }
  }

  #actionOf(button: HTMLButtonElement): SentAction {
    const type = button.dataset.act ?? '';
    if (type === 'move') return { type, position: Number(button.dataset.value) };
    if (type === 'preload')
      return { type, turns: Number(need<HTMLSelectElement>(this.#root, '#preload-turns').value) };
    if (type === 'align') return button.dataset.value === 'square' ? { type, square: true } : { type };
    if (type === 'tighten') return { type, part: button.dataset.value ?? '' };
    if (type === 'clamp') return { type: this.#root.dataset.clamped === 'true' ? 'unclamp' : 'clamp' };
    if (type === 'let-go') return { type: 'bar', degrees: 0, speed: this.#speed(), hold: 0 };
    return { type };
  }

  #step(degrees: number): void {
    this.#enqueue(() => this.#perform({ type: 'bar', degrees, speed: this.#speed() }));
  }

  #wireHolds(): void {
    for (const button of this.#root.querySelectorAll<HTMLButtonElement>('button[data-hold]')) {
      const way = button.dataset.hold === '-1' ? -1 : 1;
      button.addEventListener('pointerdown', (event) => {
        if (event.button !== 0) return;
        // Keeps the pull when a thumb slides off the button, and a long press from opening a menu.
        button.setPointerCapture(event.pointerId);
        this.#pull(way);
      });
      for (const end of ['pointerup', 'pointercancel', 'lostpointercapture'])
        button.addEventListener(end, () => this.#letUp());
      button.addEventListener('contextmenu', (event) => event.preventDefault());
      button.addEventListener('keydown', (event) => {
        if (event.key !== ' ' && event.key !== 'Enter') return;
        event.preventDefault();
        if (!event.repeat) this.#pull(way);
      });
      button.addEventListener('keyup', (event) => {
        if (event.key === ' ' || event.key === 'Enter') this.#letUp();
      });
      // Losing the focus to the other button must not let go of what that one has just taken hold of.
      button.addEventListener('blur', () => {
        if (this.#pulling === way) this.#letUp();
      });
    }
  }

  #wireKeys(): void {
    const ways: Readonly<Record<string, 1 | -1>> = { ArrowRight: 1, ArrowLeft: -1 };
    document.addEventListener('keydown', (event) => {
      if (event.altKey || event.ctrlKey || event.metaKey || isTyping(event.target)) return;
      const way = ways[event.key];
      if (way !== undefined) {
        event.preventDefault();
        if (!event.repeat) this.#pull(way);
      } else if (event.key === '.' || event.key === ',') {
        event.preventDefault();
        this.#step(event.key === '.' ? 1 : -1);
      }
    });
    document.addEventListener('keyup', (event) => {
      if (ways[event.key] !== undefined) this.#letUp();
    });
    window.addEventListener('blur', () => this.#letUp());
    document.addEventListener('visibilitychange', () => this.#letUp());
  }

  #pull(way: 1 | -1): void {
    if (this.#pulling === way) return;
    this.#pulling = way;
    if (!this.#barring) this.#enqueue(() => this.#barWhileHeld());
  }

  #letUp(): void {
    this.#pulling = 0;
  }

  /** Bars batch after batch, the next asked for while one is still turning, until the button comes up; then the bar is let go. */
  async #barWhileHeld(): Promise<void> {
    if (this.#pulling === 0) return;
    this.#barring = true;
    try {
      let speed = this.#speed();
      let coming: Promise<SeenAction> | null = this.#ask(speed);
      while (coming !== null) {
        const seen = await coming;
        speed = this.#speed();
        coming = this.#isPulled() ? this.#ask(speed) : null;
        await this.#play(seen, 1000 * BATCH_SECONDS);
      }
      await this.#perform({ type: 'bar', degrees: 0, speed, hold: 0 });
    } finally {
      this.#barring = false;
    }
    if (this.#isPulled()) this.#enqueue(() => this.#barWhileHeld());
  }

  #isPulled(): boolean {
    return this.#pulling !== 0;
  }

  #ask(speed: number): Promise<SeenAction> {
    return this.#queue.do({ type: 'bar', degrees: this.#pulling * speed * BATCH_SECONDS, speed });
  }

  async #perform(action: SentAction): Promise<void> {
    const seen = await this.#queue.do(action);
    const barred =
      action.type === 'bar'
        ? (1000 * Math.max(Math.abs(Number(action.degrees)), 4)) / Number(action.speed)
        : 0;
    await this.#play(seen, barred > 0 ? Math.min(barred, 1500) : (PLAY_MS[action.type] ?? 300));
  }

  async #play(seen: SeenAction, durationMs: number): Promise<void> {
    const effort = Math.max(0, ...seen.samples.map((sample) => sample.effort));
    await this.#screen.play(seen, durationMs * (1 + STIFF * Math.max(0, effort - 0.25)));
    this.#after(seen);
  }

  #speed(): number {
    return Number(this.#root.querySelector<HTMLInputElement>('input[name="speed"]:checked')?.value ?? 20);
  }

  #enqueue(work: () => Promise<void>): void {
    this.#root.dataset.busy = 'true';
    // A refusal has already been told where saving is told; what comes after must still be able to run.
    const going = this.#going.then(work).catch(() => undefined);
    this.#going = going;
    void going.then(() => {
      if (this.#going === going) this.#root.dataset.busy = 'false';
    });
  }
}

/** Is this a place where arrows and full stops belong to what is being typed? */
function isTyping(target: EventTarget | null): boolean {
  return (
    target instanceof HTMLElement && target.closest('input, select, textarea, [contenteditable]') !== null
  );
}
