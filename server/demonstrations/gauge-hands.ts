import {
  type ActionOf,
  type Dial,
  type GaugeAction,
  type GaugeView,
  graduationsPerTurn,
  type KindName,
  type SeenOf,
  type ViewOf,
} from '../engine/index.ts';
import type { Work } from './work.ts';

/** Kinds whose one gauge is on the bench from the start; at a cam-lift engine it may have to be chosen, and each drill has its own. */
export type OneGauge = Exclude<KindName, 'cam-lift' | 'fault-finding' | 'torque-adapter' | 'dial-reading'>;

/** Steps left out or done badly, for the remarks they bring. */
export interface GaugedHabits {
  readonly leavesOut?: readonly ('wipe' | 'align' | 'tip' | 'clamp' | 'push' | 'hold' | 'press' | 'return')[];
  readonly effort?: number;
  /** Pries or rocks nothing before the zero. */
  readonly zeroAnywhere?: boolean;
  readonly preloadTurns?: number;
  readonly turnsOnly?: number;
  readonly teethOnly?: number;
  readonly zeroOnLiner?: boolean;
}

/** One moment of a gauge that is watched: graduations counted on from the last zero, and where the work stood. */
export interface Counted {
  readonly graduations: number;
  readonly workDeg: number | null;
}

/** Hands at a bench with a gauge, and the eyes that count its pointer on over whole turns from the last zero. */
export class GaugeHands<K extends OneGauge> {
  readonly #perTurn: number;
  #view: ViewOf<K>;
  #said: readonly string[] = [];
  #last: number;
  #count = 0;

  constructor(dial: Dial, first: ViewOf<K>) {
    this.#perTurn = graduationsPerTurn(dial);
    this.#view = first;
    this.#last = (first as GaugeView).sample.pointer;
  }

  /** Does something and watches the pointer meanwhile. */
  *does(action: ActionOf<K>): Work<K, readonly Counted[]> {
    const seen = (yield action) as SeenOf<OneGauge>;
    this.#view = seen.now as ViewOf<K>;
    const counted = seen.samples.map(({ pointer, workDeg }) => {
      this.#count += this.#way(pointer);
      this.#last = pointer;
      return { graduations: this.#count, workDeg };
    });
    this.#said = seen.said.map(({ code }) => code);
    if (this.heard('bezel-at-zero')) {
      this.#last = 0;
      this.#count = 0;
    }
    return counted;
  }

  /** Does something to the gauge that every kind with one knows. */
  gauge(action: GaugeAction): Work<K, readonly Counted[]> {
    return this.does(action as ActionOf<K>);
  }

  /** The pointer to half a graduation, as an eye reads it. */
  reads(): number {
    return Math.round(2 * this.#count) / 2;
  }

  /** Was this perceived of the last action? */
  heard(code: string): boolean {
    return this.#said.includes(code);
  }

  /** The bench as it stands now. */
  sees(): ViewOf<K> {
    return this.#view;
  }

  /** From the pointer seen last to this one, the short way round: two moments are never half a turn apart. */
  #way(pointer: number): number {
    return ((pointer - this.#last + 1.5 * this.#perTurn) % this.#perTurn) - this.#perTurn / 2;
  }
}

/** Wipes, sets the indicator down, lines it up and tries the tip. The zero comes where the caller wants it. */
export function* setUp<K extends OneGauge>(
  hands: GaugeHands<K>,
  { leavesOut = [], preloadTurns = 0.5 }: GaugedHabits,
): Work<K> {
  if (!leavesOut.includes('wipe')) yield* hands.gauge({ type: 'wipe' });
  yield* hands.gauge({ type: 'set-indicator', turns: preloadTurns });
  if (!leavesOut.includes('align')) yield* hands.gauge({ type: 'align' });
  if (leavesOut.includes('tip')) return;
  for (let n = 0; n < 3; n += 1) yield* hands.gauge({ type: 'lift-tip' });
}

/** Turns the free bezel to zero and clamps it. */
export function* zero<K extends OneGauge>(
  hands: GaugeHands<K>,
  { leavesOut = [] }: Pick<GaugedHabits, 'leavesOut'>,
): Work<K> {
  yield* hands.gauge({ type: 'unclamp' });
  yield* hands.gauge({ type: 'zero' });
  if (!leavesOut.includes('clamp')) yield* hands.gauge({ type: 'clamp' });
}
