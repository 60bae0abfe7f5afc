import type { CamLiftAction, CamLiftSeen, Perception, RollerVerdict, Sample } from '../engine/index.ts';

/** What is seen at an engine, whether its lobes are measured or a fault of the set-up is looked for. */
export interface EngineSeen extends Pick<CamLiftSeen, 'said' | 'samples'> {
  readonly now: Pick<CamLiftSeen['now'], 'sample'>;
}

/** Work at an engine with a unit pump taken out: cam lift, and the search for a fault in its set-up. */
export type EngineWork<Result = void> = Generator<CamLiftAction, Result, EngineSeen>;

/** Steps at the engine that may be left out, for the remarks they bring. */
export type EngineStep = 'tip' | 'clamp' | 'second-reading' | 'press' | 'second-seat' | 'align' | 'tighten';
export type Skips = (step: EngineStep) => boolean;

/** Hands at the engine: they do things, and hold on to what the gauge showed last and how the rollers looked. */
export class EngineHands {
  readonly rollers = new Map<number, RollerVerdict>();
  #sample: Sample;

  constructor(first: EngineSeen['now']) {
    this.#sample = first.sample;
  }

  *does(action: CamLiftAction): EngineWork<EngineSeen> {
    const seen = yield action;
    this.#sample = seen.now.sample;
    return seen;
  }

  /** The gauge and the mark on the damper as they stand. */
  sees(): Sample {
    return this.#sample;
  }
}

/** Was this said of an action? */
export function heard(seen: Pick<EngineSeen, 'said'>, code: Perception['code']): boolean {
  return seen.said.some((one) => one.code === code);
}

/** Seats the tappet until it stops metal on metal; turned where its slot is off the pin. */
export function* seatHome(hands: EngineHands, onlyOnce: boolean): EngineWork {
  let seen = yield* hands.does({ type: 'seat' });
  if (onlyOnce) return;
  if (heard(seen, 'far-up')) {
    yield* hands.does({ type: 'turn-tappet' });
    seen = yield* hands.does({ type: 'seat' });
  }
  if (heard(seen, 'dull-stop')) yield* hands.does({ type: 'seat' });
}

/** In line with the bore, arm and base tight, the rod firm: looked at first, set right where it is not. */
export function* setRight(hands: EngineHands, skips: Skips): EngineWork {
  if (!skips('align')) {
    const looked = yield* hands.does({ type: 'align' });
    if (!heard(looked, 'stands-square')) yield* hands.does({ type: 'align', square: true });
  }
  if (skips('tighten')) return;
  for (const part of ['arm', 'base', 'rod'] as const) yield* hands.does({ type: 'tighten', part });
}

/** Lifts the tip a few times to see that it comes back to the same place. */
export function* tryTip(hands: EngineHands): EngineWork {
  for (let n = 0; n < 3; n += 1) yield* hands.does({ type: 'lift-tip' });
}

/** Turns the free bezel to zero and clamps it. */
export function* zeroBezel(hands: EngineHands, clamps = true): EngineWork {
  yield* hands.does({ type: 'unclamp' });
  yield* hands.does({ type: 'zero' });
  if (clamps) yield* hands.does({ type: 'clamp' });
}
