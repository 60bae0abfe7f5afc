/** Degrees of cam and the lift of the roller follower there, in mm. */
export type LiftPoint = readonly [camDeg: number, liftMm: number];

/**
 * Lift between the points of a closed curve, by straight lines. `camDeg` any finite number; the curve's degrees rise within 0 to 360.
 * An empty curve lifts nothing.
 */
export function liftAt(curve: readonly LiftPoint[], camDeg: number): number {
  const first = curve[0];
  const last = curve.at(-1);
  if (!first || !last) return 0;
  const deg = ((camDeg % 360) + 360) % 360;
  let [fromDeg, fromLift] = [last[0] - 360, last[1]];
  for (const [toDeg, toLift] of [...curve, [first[0] + 360, first[1]] as const]) {
    if (deg <= toDeg) {
      const width = toDeg - fromDeg;
      return width > 0 ? fromLift + ((deg - fromDeg) / width) * (toLift - fromLift) : toLift;
    }
    [fromDeg, fromLift] = [toDeg, toLift];
  }
  return first[1];
}

/**
 * The cam's outline for a roller follower that rises straight over its centre: the path of the roller's centre, moved in by its radius along the
 * normal. In mm, y down, drawn for a cam that turns clockwise, with degree 0 at twelve o'clock. One point each degree.
 * Source: the envelope of a circle rolling on a curve, elementary geometry.
 */
export function camProfile(
  curve: readonly LiftPoint[],
  baseRadiusMm: number,
  rollerRadiusMm: number,
): readonly (readonly [number, number])[] {
  const centreAt = (deg: number): readonly [number, number] => {
    const radius = baseRadiusMm + rollerRadiusMm + liftAt(curve, deg);
    const rad = (-deg * Math.PI) / 180;
    return [radius * Math.sin(rad), -radius * Math.cos(rad)];
  };
  const points: (readonly [number, number])[] = [];
  for (let deg = 0; deg < 360; deg += 1) {
    const [x, y] = centreAt(deg);
    const [beforeX, beforeY] = centreAt(deg - 1);
    const [afterX, afterY] = centreAt(deg + 1);
    const alongX = afterX - beforeX;
    const alongY = afterY - beforeY;
    const length = Math.hypot(alongX, alongY) || 1;
    // The path runs anticlockwise with y down, so the way in is to the left of it.
    const inX = alongY / length;
    const inY = -alongX / length;
    const side = inX * x + inY * y > 0 ? -1 : 1;
    points.push([x + side * inX * rollerRadiusMm, y + side * inY * rollerRadiusMm]);
  }
  return points;
}
