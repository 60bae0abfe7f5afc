import type { ActionQueue } from '../models/action-queue.ts';
import { actionOf, type SentAction } from '../models/sent-action.ts';
import type { BenchScreen, SeenAction } from './bench-screen.ts';

/** Seconds of barring in one batch: short, so that little is overshot when the button comes up; long enough for a slow network. */
const BATCH_SECONDS = 0.25;
/** The engine turns slower where it is stiff: at full effort, this many times. */
const STIFF = 1.5;

const PLAY_MS: Readonly<Record<string, number>> = {
  preload: 700,
  'set-indicator': 700,
  'lift-tip': 1100,
  press: 500,
  pry: 600,
  rock: 700,
  'put-block': 800,
  'let-down': 1200,
  zero: 200,
};

/** The buttons and keys at the engine. One thing at a time: whatever is asked for waits for what is going on. */
export class BenchControls {
  readonly #root: HTMLElement;
  readonly #queue: ActionQueue<SentAction, SeenAction>;
  readonly #screen: BenchScreen;
  readonly #after: (seen: SeenAction) => void;
  /** What can be turned here, if anything can. */
  readonly #turn: HTMLElement | null;
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
    this.#turn = root.querySelector('[data-turn]');
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
    for (const button of this.#root.querySelectorAll<HTMLButtonElement>(
      'button[data-action], button[data-choose], button[data-pick]',
    )) {
      button.addEventListener('click', () => {
        const action = actionOf(this.#root, button);
        if (action !== null) this.#enqueue(() => this.#perform(action));
      });
    }
    for (const button of this.#root.querySelectorAll<HTMLButtonElement>('button[data-step]')) {
      button.addEventListener('click', () => this.#step(Number(button.dataset.step)));
    }
    this.#root
      .querySelector('[data-let-go]')
      ?.addEventListener('click', () => this.#enqueue(() => this.#perform(this.#turning(0, 0))));
  }

  /** Turning by so many degrees; where the bar is held, how fast, and for how long before it is let go. */
  #turning(degrees: number, hold?: number): SentAction {
    const { turn, barred } = this.#turn?.dataset ?? {};
    const action = { ...(JSON.parse(turn ?? '{}') as SentAction), degrees };
    if (barred === undefined) return action;
    return { ...action, speed: this.#speed(), ...(hold === undefined ? {} : { hold }) };
  }

  #step(degrees: number): void {
    if (this.#turn !== null) this.#enqueue(() => this.#perform(this.#turning(degrees)));
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
    if (this.#turn === null || this.#pulling === way) return;
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
      let coming: Promise<SeenAction> | null = this.#ask();
      while (coming !== null) {
        const seen = await coming;
        coming = this.#isPulled() ? this.#ask() : null;
        await this.#play(seen, 1000 * BATCH_SECONDS);
      }
      if (this.#turn?.dataset.barred !== undefined) await this.#perform(this.#turning(0, 0));
    } finally {
      this.#barring = false;
    }
    if (this.#isPulled()) this.#enqueue(() => this.#barWhileHeld());
  }

  #isPulled(): boolean {
    return this.#pulling !== 0;
  }

  #ask(): Promise<SeenAction> {
    return this.#queue.do(this.#turning(this.#pulling * this.#speed() * BATCH_SECONDS));
  }

  async #perform(action: SentAction): Promise<void> {
    const seen = await this.#queue.do(action);
    await this.#play(seen, this.#duration(action, seen));
  }

  /** How long an action is played, milliseconds: turning by its speed, a pointer that is watched by the turns it makes. */
  #duration({ type, degrees, speed }: SentAction, seen: SeenAction): number {
    if (typeof degrees === 'number' && type === this.#turning(0).type)
      return Math.min((1000 * Math.max(Math.abs(degrees), 4)) / this.#speed(), 1500);
    if (type === 'watch' || type === 'watch-back') return (1000 * this.#screen.turnsOf(seen)) / Number(speed);
    return PLAY_MS[type] ?? 300;
  }

  async #play(seen: SeenAction, durationMs: number): Promise<void> {
    const effort = Math.max(0, ...seen.samples.map((sample) => sample.effort ?? 0));
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
