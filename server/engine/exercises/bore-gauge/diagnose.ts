import { type Likely, misreadingsOf, NEAR, tellable } from '../../bench-parts/likely.ts';
import { usualMisreadings } from '../../bench-parts/result-checks.ts';
import type { BoreAxis, BoreLevel } from './types.ts';

/** A reading of the sheet, in graduations. */
export interface ReadPlace {
  readonly level: BoreLevel;
  readonly axis: BoreAxis;
  readonly written: number | null;
  readonly shown: number | null;
  /** Where the pointer stood there while the gauge slanted. */
  readonly rests: readonly number[];
  /** Where it stood, slanted, as something was written. */
  readonly noted: readonly number[];
}

/** Two readings of a level that differ by less are not known by it if they stand on each other's lines. */
const AXES_APART = 3;
/** One line at least is off by more than this: a mistake that cannot be seen was not made. */
const SEEN = 2;
/** So many lines must agree for a mistake to be one of the whole sheet. */
const LINES = 3;

/**
 * What each line of the readings most likely suffered from: first what the lines say together (all turned round, all halved, the axes
 * of a level on each other's lines), then what each says alone.
 */
export function likelyReadings(places: readonly ReadPlace[], perTurn: number): Likely[][] {
  const together = wholeSheet(places, perTurn);
  return places.map((place) => {
    const all = hypotheses(place, places, perTurn);
    if (together.length > 0) return all.filter(({ mistake }) => together.includes(mistake));
    if (hasSwapped(place, places)) return all.filter(({ mistake }) => mistake === 'axes-mixed');
    const { written, shown } = place;
    if (written === null || shown === null) return [];
    if (place.noted.some((stood) => Math.abs(stood - written) <= NEAR))
      return [{ mistake: 'not-the-turning-point', graduations: written }];
    const single = all.filter(({ mistake }) => mistake !== 'axes-mixed');
    return tellable(single, shown, written);
  });
}

function hypotheses(place: ReadPlace, places: readonly ReadPlace[], perTurn: number): Likely[] {
  const { shown, written, rests } = place;
  if (shown === null) return [];
  const turn = Math.sign(shown) * perTurn;
  const other = acrossFrom(place, places)?.shown ?? null;
  return [
    { mistake: 'sign-turned', graduations: -shown },
    ...misreadingsOf(shown, written),
    Math.abs(shown) >= perTurn
      ? { mistake: 'missed-turn', graduations: shown - turn }
      : { mistake: 'wrong-way-round', graduations: shown - turn },
    { mistake: 'extra-turn', graduations: shown + turn },
    ...rests.map((graduations) => ({ mistake: 'not-the-turning-point', graduations })),
    ...(other === null ? [] : [{ mistake: 'axes-mixed', graduations: other }]),
  ];
}

function acrossFrom({ level, axis }: ReadPlace, places: readonly ReadPlace[]): ReadPlace | undefined {
  return places.find((one) => one.level === level && one.axis !== axis);
}

/** Do the two readings of its level stand on each other's lines? */
function hasSwapped(place: ReadPlace, places: readonly ReadPlace[]): boolean {
  const other = acrossFrom(place, places);
  if (other === undefined) return false;
  const [a, b, shownA, shownB] = [place.written, other.written, place.shown, other.shown];
  if (a === null || b === null || shownA === null || shownB === null) return false;
  return (
    Math.abs(shownA - shownB) >= AXES_APART && Math.abs(a - shownB) <= NEAR && Math.abs(b - shownA) <= NEAR
  );
}

/** The mistakes, at most two, that alone would have made every line as it was written, though the lines are off. */
function wholeSheet(places: readonly ReadPlace[], perTurn: number): string[] {
  const lines = places.filter(({ written, shown }) => written !== null && shown !== null);
  const isOff = lines.some(({ written, shown }) => Math.abs((written ?? 0) - (shown ?? 0)) > SEEN);
  if (lines.length < LINES || !isOff) return [];
  const fits = new Map<string, number>();
  const mistakes = new Set(
    lines.flatMap((line) => hypotheses(line, places, perTurn).map((one) => one.mistake)),
  );
  for (const mistake of mistakes) {
    const misses = lines.map((line) =>
      Math.min(
        ...hypotheses(line, places, perTurn)
          .filter((one) => one.mistake === mistake)
          .map(({ graduations }) => Math.abs(graduations - (line.written ?? 0))),
      ),
    );
    if (Math.max(...misses) <= NEAR) fits.set(mistake, Math.hypot(...misses));
  }
  const best = Math.min(...fits.values());
  const close = [...fits].filter(([, miss]) => miss <= Math.max(2 * best, best + 0.2));
  return close.length <= 2 ? close.map(([mistake]) => mistake) : [];
}

/** What mistakes make of a diameter worked out from a reading; all in graduations. */
export function likelyDiameters(reading: number, ring: number, nominal: number): Likely[] {
  return [
    { mistake: 'sign-turned', graduations: ring + reading },
    { mistake: 'nominal-for-ring', graduations: nominal - reading },
    { mistake: 'inch-millimetre', graduations: (ring - reading) * 25.4 },
    { mistake: 'inch-millimetre', graduations: (ring - reading) / 25.4 },
  ];
}

/** What mistakes make of out-of-round, where taper is the other, or the other way about. */
export function likelyDifferences(right: number, other: number): Likely[] {
  return [{ mistake: 'taper-for-out-of-round', graduations: other }, ...usualMisreadings(right)];
}
