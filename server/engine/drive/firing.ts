/** Firing orders of inline four-stroke engines. Source: Denton, Automobile Mechanical and Electrical Systems, p. 107. */
export const FIRING_ORDERS: Readonly<Record<4 | 6, readonly number[]>> = {
  4: [1, 3, 4, 2],
  6: [1, 5, 3, 6, 2, 4],
};

/** Crank degrees of one four-stroke cycle; the cam turns once in it. */
export const CYCLE_DEG = 720;

/**
 * Crank angle, in degrees, of a cylinder's firing top dead centre from cylinder 1's: 0 to 720 exclusive.
 * Cylinder 1 is at the front, the end away from the flywheel. Source: SAE J824; four-stroke cycle of 720°.
 * @throws RangeError when the cylinder is not in the order.
 */
export function firingTdcDeg(firingOrder: readonly number[], cylinder: number): number {
  const place = firingOrder.indexOf(cylinder);
  if (place < 0)
    throw new RangeError(`Cylinder ${cylinder} is not in the firing order ${firingOrder.join('-')}.`);
  return (CYCLE_DEG / firingOrder.length) * place;
}
