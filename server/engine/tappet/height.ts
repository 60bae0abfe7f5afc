/**
 * The tappet has its own height. Rising, the cam carries it. Falling, it follows only as far as its condition lets it:
 * a hung one stops `hungMm` over the base circle, a sticky one stays up until the gap under it passes `sticksMm`, then
 * drops with a click.
 */
export interface TappetHold {
  /** 0 when nothing holds it up: then it goes as low as the cam, also where run-out takes that below the base circle. */
  readonly hungMm: number;
  /** Gap at which a sticky tappet lets go; 0 for a free one, larger than the lift for one that stays up. */
  readonly sticksMm: number;
}

export interface TappetMove {
  readonly heightMm: number;
  /** It let go by itself and dropped. */
  readonly clicked: boolean;
}

/** Where a tappet comes to rest on a cam whose surface stands at `camMm`. Millimetres over the base circle. */
export function restMm(camMm: number, hungMm: number): number {
  return hungMm > 0 ? Math.max(camMm, hungMm) : camMm;
}

/** The tappet's next height when the cam's surface under it stands at `camMm`. Millimetres over the base circle. */
export function followCam(heightMm: number, camMm: number, { hungMm, sticksMm }: TappetHold): TappetMove {
  const lowestMm = restMm(camMm, hungMm);
  const gapMm = heightMm - lowestMm;
  if (gapMm <= 0 || sticksMm === 0) return { heightMm: lowestMm, clicked: false };
  return gapMm > sticksMm ? { heightMm: lowestMm, clicked: true } : { heightMm, clicked: false };
}
