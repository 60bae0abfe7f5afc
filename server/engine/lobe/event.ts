import { displacementMm, type Lobe } from './lift-curve.ts';

/** A lobe's event at one height, in crank degrees, not wrapped; its opening lies before the nose, its closing after it. */
export interface LobeEvent {
  readonly opensDeg: number;
  readonly closesDeg: number;
  readonly widthDeg: number;
  /** Middle of the event. On a lobe that is not symmetric it is not where the nose is. */
  readonly centreDeg: number;
}

/** Halvings of a degree of cam: to a millionth of it. */
const HALVINGS = 20;
const STEP_CAM_DEG = 1;

/**
 * The event of a lobe at a height over its base circle, millimetres: where the follower passes it first on the way to the nose and last
 * on the way from it. Null where the nose is not higher than that. Source: definition, event width at 0.050 in or 1 mm (common practice).
 * @throws RangeError for a lobe whose motion law has no such name.
 */
export function lobeEvent(lobe: Lobe, heightMm: number): LobeEvent | null {
  const opens = crossing(lobe, heightMm, -1);
  const closes = crossing(lobe, heightMm, 1);
  if (opens === null || closes === null) return null;
  const [opensDeg, closesDeg] = [opens, closes].map((camDeg) => lobe.noseCrankDeg + 2 * camDeg) as [
    number,
    number,
  ];
  return { opensDeg, closesDeg, widthDeg: closesDeg - opensDeg, centreDeg: (opensDeg + closesDeg) / 2 };
}

/** Cam degrees from the nose at which the height is passed, looked for from the base circle inwards; null where it never is. */
function crossing(lobe: Lobe, heightMm: number, side: 1 | -1): number | null {
  const isOver = (off: number) => displacementMm(lobe, side * off) > heightMm;
  let off = 180;
  while (off >= 0 && !isOver(off)) off -= STEP_CAM_DEG;
  if (off < 0) return null;
  let [inside, outside] = [off, off + STEP_CAM_DEG];
  for (let n = 0; n < HALVINGS; n += 1) {
    const middle = (inside + outside) / 2;
    if (isOver(middle)) inside = middle;
    else outside = middle;
  }
  return side * inside;
}
