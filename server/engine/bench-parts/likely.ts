import { usualMisreadings } from './result-checks.ts';

/** What a mistake would have made one write, in graduations. */
export interface Likely {
  readonly mistake: string;
  readonly graduations: number;
}

/** As near to what was shown as a careful eye comes, in graduations. */
export const NEAR = 1 + 1e-6;
/** A mistake that moves a reading by less than this is not told from a careless eye: of 1.5 graduations, three spreads. */
const TOLD_APART = 5;

/**
 * The usual misreadings of a shown movement, and inches for millimetres. What multiplies a reading multiplies also what the eye was off
 * by: where the written number comes back to what was shown, to a graduation, it is taken as it stands. All in graduations.
 */
export function misreadingsOf(shown: number, written: number | null): Likely[] {
  const plain = [
    ...usualMisreadings(shown),
    { mistake: 'inch-millimetre', graduations: shown * 25.4 },
    { mistake: 'inch-millimetre', graduations: shown / 25.4 },
  ];
  return plain.map((one) => {
    const factor = one.graduations / shown;
    const comesBack = written !== null && factor > 1 && Math.abs(written / factor - shown) <= NEAR;
    return comesBack ? { ...one, graduations: written } : one;
  });
}

/** Those that a written number speaks for: clear of a careless eye, and of those the nearest. */
export function tellable(likely: readonly Likely[], shown: number, written: number): Likely[] {
  const off = ({ graduations }: Likely) => Math.abs(graduations - written);
  const close = likely.filter((one) => Math.abs(one.graduations - shown) >= TOLD_APART && off(one) <= NEAR);
  const best = Math.min(...close.map(off));
  return close.filter((one) => off(one) <= best + 0.5);
}

/** Only the mistakes that come to what was written: a sum has no scatter. */
export function exactly(likely: readonly Likely[], written: number | null): Likely[] {
  return likely.filter(
    ({ graduations }) => written !== null && Math.abs(graduations - written) <= 0.5 + 1e-6,
  );
}
