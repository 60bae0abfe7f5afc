import { keptIn } from '../models/kept.ts';

interface Sound {
  /** Hertz, seconds, and how loud, 0 to 1. */
  readonly pitch: number;
  readonly lasts: number;
  readonly loud: number;
  readonly shape: OscillatorType;
}

/** What is heard, by the code of what was perceived. Nothing for the pointer: counting its turns is the student's. */
const SOUNDS: Readonly<Record<string, Sound>> = {
  'metal-on-metal': { pitch: 1900, lasts: 0.12, loud: 0.25, shape: 'triangle' },
  'dull-stop': { pitch: 110, lasts: 0.16, loud: 0.5, shape: 'sine' },
  'hard-stop': { pitch: 160, lasts: 0.2, loud: 0.5, shape: 'square' },
  'solid-stop': { pitch: 900, lasts: 0.07, loud: 0.25, shape: 'triangle' },
  'springy-stop': { pitch: 180, lasts: 0.14, loud: 0.3, shape: 'sine' },
  click: { pitch: 2600, lasts: 0.04, loud: 0.4, shape: 'square' },
  'click-with-a-jerk': { pitch: 2600, lasts: 0.04, loud: 0.5, shape: 'square' },
  'click-pulled-past': { pitch: 2600, lasts: 0.04, loud: 0.4, shape: 'square' },
  'clicks-at-once': { pitch: 2600, lasts: 0.04, loud: 0.4, shape: 'square' },
  compression: { pitch: 70, lasts: 0.35, loud: 0.4, shape: 'sawtooth' },
  'rolled-back': { pitch: 55, lasts: 0.5, loud: 0.5, shape: 'sawtooth' },
  'ran-on': { pitch: 55, lasts: 0.5, loud: 0.5, shape: 'sawtooth' },
};

/** Sounds of the bench, off until they are switched on; everything that is heard is also said in words. */
export class BenchSound {
  readonly #button: HTMLButtonElement | null;
  readonly #kept = keptIn<boolean>('dialbench:sound');
  #context: AudioContext | null = null;

  constructor(button: HTMLButtonElement | null) {
    this.#button = button;
    this.#show(this.#kept.read() === true);
    button?.addEventListener('click', () => {
      const on = this.#button?.getAttribute('aria-pressed') !== 'true';
      this.#kept.write(on);
      this.#show(on);
    });
  }

  /** Sounds what was heard, if sound is on. */
  play(codes: readonly string[]): void {
    if (this.#button?.getAttribute('aria-pressed') !== 'true') return;
    for (const code of codes) {
      const sound = SOUNDS[code];
      if (sound !== undefined) this.#tone(sound);
    }
  }

  #show(on: boolean): void {
    this.#button?.setAttribute('aria-pressed', String(on));
  }

  #tone({ pitch, lasts, loud, shape }: Sound): void {
    this.#context ??= new AudioContext();
    const { currentTime: now } = this.#context;
    const tone = this.#context.createOscillator();
    const volume = this.#context.createGain();
    tone.type = shape;
    tone.frequency.value = pitch;
    volume.gain.setValueAtTime(loud, now);
    volume.gain.exponentialRampToValueAtTime(0.001, now + lasts);
    tone.connect(volume).connect(this.#context.destination);
    tone.start(now);
    tone.stop(now + lasts);
  }
}
