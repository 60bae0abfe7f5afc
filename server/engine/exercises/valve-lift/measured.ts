import { type GaugeRun, restOf, spanOf, type Zeroed } from '../../bench-parts/log.ts';
import { PLACES, type ValveAction, type ValveName, type ValvePlace, type ValveState } from './types.ts';

export type ValveZero = Zeroed<ValveState, ValveAction>;
export type ValveRun = GaugeRun<ValveState, ValveAction>;

/** What was measured at one place of one valve. */
export interface Measured {
  readonly place: ValvePlace;
  /** The zero that the written number comes from; null where nothing was moved under a zero. */
  readonly zero: ValveZero | null;
  /** Its set-up, or the last one there. */
  readonly run: ValveRun | null;
  /** What the gauge showed, in graduations, without a sign; null where nothing was measured. */
  readonly shown: number | null;
  /** Every zero under which something was moved there. */
  readonly zeros: readonly ValveZero[];
}

/** What a zero showed: highest on the pushrod, lowest on the retainer, the whole of the play on the rocker. Graduations, from zero. */
export function movementOf(zero: ValveZero): number {
  const place = zero.state.spot?.at;
  if (place === 'rocker')
    return spanOf([0, ...handled(zero, place).flatMap((entry) => restOf(entry)?.graduations ?? [])]) ?? 0;
  const seen = handled(zero, place).flatMap(({ step }) => step.moments.map(({ graduations }) => graduations));
  const way = place === 'retainer' ? -1 : 1;
  return seen.reduce((most, graduations) => Math.max(most, way * graduations), 0);
}

/** What is done to measure at a place: the rocker is rocked, else the crank is barred. */
export function handled(zero: ValveZero, place: ValvePlace | undefined) {
  const type = place === 'rocker' ? 'rock-rocker' : 'bar';
  return zero.entries.filter(({ action }) => action.type === type);
}

/** The places of a valve, each with the last zero within two graduations of what is written; else the last. */
export function measuredAt(
  name: ValveName,
  runs: readonly ValveRun[],
  zeros: readonly ValveZero[],
  written: Readonly<Record<ValvePlace, number | null>>,
): Readonly<Record<ValvePlace, Measured>> {
  const isHere = (state: ValveState | undefined, place: ValvePlace) =>
    state?.spot?.at === place && state.spot.cylinder === name.cylinder && state.spot.valve === name.valve;
  const at = (place: ValvePlace): Measured => {
    const own = zeros.filter((zero) => isHere(zero.state, place) && handled(zero, place).length > 0);
    const wanted = written[place];
    const near = own.filter((zero) => wanted !== null && Math.abs(movementOf(zero) - wanted) <= 2);
    const zero = near.at(-1) ?? own.at(-1) ?? null;
    const last = runs.filter(({ entries }) => isHere(entries[0]?.step.state, place)).at(-1) ?? null;
    return {
      ...{ place, zero, zeros: own },
      ...{ run: zero?.run ?? last, shown: zero === null ? null : movementOf(zero) },
    };
  };
  return Object.fromEntries(PLACES.map((place) => [place, at(place)])) as Record<ValvePlace, Measured>;
}
