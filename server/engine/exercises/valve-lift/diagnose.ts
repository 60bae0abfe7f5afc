import { exactly, type Likely, misreadingsOf, NEAR, tellable } from '../../bench-parts/likely.ts';
import { PLACES, type ValvePlace } from './types.ts';

/** Lengths of one valve, in graduations: lobe lift, valve lift, lash by where they are measured. */
export type Lengths = Readonly<Record<ValvePlace, number | null>>;

export interface ReadValve {
  readonly written: Lengths;
  readonly shown: Lengths;
}

/** Two valves of which no box differs by more are not known by standing on each other's lines. */
const VALVES_APART = 3;

/**
 * What each box of a valve most likely suffered from: first whether two valves stand on each other's lines, then each box alone.
 * Graduations all.
 */
export function likelyLengths(
  own: ReadValve,
  others: readonly ReadValve[],
  perTurn: number,
): Readonly<Record<ValvePlace, Likely[]>> {
  const swapped = others.find((other) => stand(own, other));
  const at = (place: ValvePlace): Likely[] => {
    const [written, shown] = [own.written[place], own.shown[place]];
    if (written === null || shown === null) return [];
    if (swapped !== undefined)
      return [{ mistake: 'another-valve', graduations: swapped.shown[place] ?? shown }];
    return tellable(hypotheses(place, own, others, perTurn), shown, written);
  };
  return Object.fromEntries(PLACES.map((place) => [place, at(place)])) as Record<ValvePlace, Likely[]>;
}

/** Do two valves stand on each other's lines, and can it be seen? */
function stand(a: ReadValve, b: ReadValve): boolean {
  const isOther = (one: ReadValve, other: ReadValve) =>
    PLACES.every((place) => {
      const [written, shown] = [one.written[place], other.shown[place]];
      return written !== null && shown !== null && Math.abs(written - shown) <= NEAR;
    });
  const apart = PLACES.map((place) => Math.abs((a.shown[place] ?? 0) - (b.shown[place] ?? 0)));
  return Math.max(...apart) >= VALVES_APART && isOther(a, b) && isOther(b, a);
}

function hypotheses(
  place: ValvePlace,
  { written, shown }: ReadValve,
  others: readonly ReadValve[],
  perTurn: number,
): Likely[] {
  const own = shown[place] ?? 0;
  const general = [
    ...misreadingsOf(own, written[place]),
    ...others.flatMap((other) => one('another-valve', other.shown[place])),
  ];
  if (place === 'rocker') return general;
  const [turns, pointer] = [Math.floor(own / perTurn), own % perTurn];
  const lash = shown.rocker ?? 0;
  return [
    ...general,
    ...(own >= perTurn ? [{ mistake: 'missed-turn', graduations: own - perTurn }] : []),
    { mistake: 'extra-turn', graduations: own + perTurn },
    { mistake: 'wrong-way-round', graduations: turns * perTurn + (perTurn - pointer) },
    ...one('lobe-and-valve-mixed', shown[place === 'pushrod' ? 'retainer' : 'pushrod']),
    ...(place === 'retainer'
      ? [
          { mistake: 'lash-added', graduations: own + lash },
          { mistake: 'lash-taken-away', graduations: own - lash },
        ]
      : []),
  ];
}

function one(mistake: string, graduations: number | null): Likely[] {
  return graduations === null ? [] : [{ mistake, graduations }];
}

/** What mistakes make of the ratio worked out from written lengths, and what it should be: hundredths. Null where a length is missing. */
export function ratioFrom(
  { pushrod: lobe, retainer: valve, rocker: lash }: Lengths,
  written: number | null,
): { readonly right: number | null; readonly likely: Likely[] } {
  if (lobe === null || valve === null || lash === null || lobe === 0) return { right: null, likely: [] };
  const right = (100 * (valve + lash)) / lobe;
  const likely: Likely[] = [
    { mistake: 'lash-forgotten', graduations: (100 * valve) / lobe },
    { mistake: 'lash-twice', graduations: (100 * (valve + 2 * lash)) / lobe },
    { mistake: 'lash-taken-away', graduations: (100 * (valve - lash)) / lobe },
    { mistake: 'ratio-upside-down', graduations: 10000 / right },
    { mistake: 'decimal-place', graduations: 10 * right },
    { mistake: 'decimal-place', graduations: right / 10 },
  ];
  return { right, likely: exactly(likely, written) };
}
