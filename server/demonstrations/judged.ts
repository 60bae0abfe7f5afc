import { convertLength, type FollowUp, type LengthUnit, type SetLimits } from '../engine/index.ts';

/** What comes of a verdict where nothing else was found wrong. */
export const nextFor = (verdict: string): FollowUp =>
  verdict === 'inside' ? 'return-to-service' : 'measure-again';

/** A length in the dial's unit against limits in their own. */
export function within(length: number, { lower, upper, unit }: SetLimits, dialUnit: LengthUnit) {
  const inUnit = convertLength(length, dialUnit, unit);
  if (lower !== null && inUnit < lower - 1e-9) return 'below';
  return upper !== null && inUnit > upper + 1e-9 ? 'above' : 'inside';
}
