import type { Dial, LengthUnit } from '../../engine/index.ts';

type Face = Pick<Dial, 'graduation' | 'unit'>;

/** Decimals that one graduation is written with: 3 for 0.001 in, 2 for 0.01 mm. */
export function decimalsOf(dial: Face): number {
  return String(dial.graduation).split('.')[1]?.length ?? 0;
}

/** A length in the dial's unit to the nearest half graduation, as an eye reads it: `0.214 in`, `0.2145 in`. */
export function lengthWords(length: number, dial: Face): string {
  const halves = Math.round((length / dial.graduation) * 2);
  const decimals = decimalsOf(dial) + (halves % 2 === 0 ? 0 : 1);
  return plain((halves / 2) * dial.graduation, decimals, dial.unit);
}

/** A length in the dial's unit to a tenth of a graduation, for what no eye had to read. */
export function fineLengthWords(length: number, dial: Face): string {
  return plain(length, decimalsOf(dial) + 1, dial.unit);
}

/** `1 graduation`, `2.5 graduations`: to a tenth below ten, whole above; the sign is left out. */
export function graduationWords(graduations: number): string {
  const size = Math.abs(graduations);
  const shown = size < 10 ? Math.round(size * 10) / 10 : Math.round(size);
  return `${shown} ${shown === 1 ? 'graduation' : 'graduations'}`;
}

/** Graduations and the length they make: `30 graduations (0.030 in)`. */
export function graduationsAndLength(graduations: number, dial: Face): string {
  return `${graduationWords(graduations)} (${lengthWords(Math.abs(graduations) * dial.graduation, dial)})`;
}

/** Limits in their own unit; an open side is said. */
export function limitWords(limits: {
  readonly lower: number | null;
  readonly upper: number | null;
  readonly unit: LengthUnit;
}): string {
  const decimals = limits.unit === 'in' ? 3 : 2;
  const write = (limit: number) => plain(limit, decimals, limits.unit);
  if (limits.lower !== null && limits.upper !== null) {
    return `${limits.lower.toFixed(decimals)} to ${write(limits.upper)}`;
  }
  if (limits.lower !== null) return `${write(limits.lower)} or more, no upper limit`;
  if (limits.upper !== null) return `${write(limits.upper)} or less, no lower limit`;
  return 'no limits';
}

/** A nominal length in its own unit: `0.237 in`. */
export function nominalWords({
  nominal,
  unit,
}: {
  readonly nominal: number;
  readonly unit: LengthUnit;
}): string {
  return plain(nominal, unit === 'in' ? 3 : 2, unit);
}

/** A minus sign as it is printed, never a minus before nothing, and a blank that keeps the unit on the figure's line. */
function plain(length: number, decimals: number, unit: LengthUnit): string {
  const size = Math.abs(length).toFixed(decimals);
  return `${length < 0 && Number(size) !== 0 ? '−' : ''}${size}\u00a0${unit}`;
}
