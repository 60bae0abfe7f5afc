/**
 * What to set on a click wrench so that the fastener gets `wanted` through an adapter: wanted × L / (L + E cos a).
 * L, `wrenchLength`: middle of the grip to the drive square. E, `adapterLength`: drive square to fastener, along the adapter.
 * a, `angleDeg`: between adapter and handle; 0 straight ahead, 90 across (nothing changes), 180 turned back. Torque in any unit, what
 * comes back is in the same; L and E in one unit. The hand must stay where L was measured.
 * Source: US Army TM 9-254, figure 46; worked values in US Navy training manual 14315, figures 3-44 and 3-45.
 * @throws RangeError for a torque or L that is not above 0, a negative E, anything not finite, or L + E cos a ≤ 0: the adapter then
 * reaches back to the hand or past it.
 */
export function torqueSetting(
  wanted: number,
  wrenchLength: number,
  adapterLength: number,
  angleDeg: number,
): number {
  if (!(wanted > 0 && Number.isFinite(wanted))) throw new RangeError('The torque wanted must be above 0.');
  if (!(wrenchLength > 0 && Number.isFinite(wrenchLength)))
    throw new RangeError('The length of the wrench must be above 0.');
  if (!(adapterLength >= 0 && Number.isFinite(adapterLength)))
    throw new RangeError('The length of the adapter must be 0 or more.');
  if (!Number.isFinite(angleDeg)) throw new RangeError('The angle of the adapter must be a finite number.');
  const effectiveLength = wrenchLength + adapterLength * Math.cos((angleDeg * Math.PI) / 180);
  if (effectiveLength <= 0)
    throw new RangeError(
      'The adapter reaches back to the hand or past it: the wrench cannot turn the fastener.',
    );
  return (wanted * wrenchLength) / effectiveLength;
}
