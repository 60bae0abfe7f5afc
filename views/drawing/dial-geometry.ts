import type { Dial } from '../../server/engine/dial/dial.ts';

/**
 * Where the parts of the dial stand. One set of rules for the drawing and for what moves it in the page.
 * A gauge with a 57 mm bezel and a 3/8 in stem is drawn at 6.5 units to the millimetre. Common practice, no source.
 */
export const DIAL_SIZE = { width: 400, height: 546 } as const;
export const CENTRE = { x: 192, y: 202 } as const;
export const COUNTER_CENTRE = { x: 0, y: 52 } as const;
export const CLAMP_DEG = 60;
/** Radius of the clamp's pivot, just outside the bezel. */
export const CLAMP_PIVOT = 196;

const UNITS_PER_MM = 6.5;
const LONGEST_THROW = 78;
const MM_PER_IN = 25.4;

/** What the parts need to know of a dial; kept on the drawing's root so that the page can move them. */
export interface DialScale {
  /** Graduations in one turn of the pointer. */
  readonly graduations: number;
  /** Turns of the pointer for one turn of the small hand; 0 where there is none. */
  readonly counterTurns: number;
  /** Drawing units for one millimetre of the plunger. */
  readonly unitsPerMm: number;
}

/** What stands on the dial at one moment. */
export interface DialStand {
  /** Pointer against the face, in graduations, 0 to n. Any finite number: it is drawn by its angle. */
  readonly pointer: number;
  /** Small hand, in turns; null where there is none. */
  readonly counter: number | null;
  /** How far the bezel has turned the face, in graduations, clockwise. */
  readonly faceTurn: number;
  readonly clamped: boolean;
  /** How far the plunger is in. */
  readonly plungerMm: number;
}

/** The `transform` of each moving part. */
export type PartTransforms = Readonly<
  Record<'face' | 'bezel' | 'pointer' | 'counter' | 'plunger' | 'clamp', string>
>;

/** The scale of a dial's drawing. A throw too long for the drawing is shortened, all of it alike. */
export function dialScale(dial: Dial): DialScale {
  const travelMm = dial.unit === 'in' ? dial.travel * MM_PER_IN : dial.travel;
  return {
    graduations: Math.round(dial.rangePerTurn / dial.graduation),
    counterTurns: dial.counter === 'none' ? 0 : counterTurns(dial.travel / dial.rangePerTurn),
    unitsPerMm: Math.min(UNITS_PER_MM, LONGEST_THROW / travelMm),
  };
}

/** Angle of the pointer to the case, in degrees clockwise from twelve o'clock, 0 to 360. */
export function pointerDeg(scale: DialScale, stand: Pick<DialStand, 'pointer' | 'faceTurn'>): number {
  return wrap(((stand.pointer + stand.faceTurn) / scale.graduations) * 360);
}

/** Angle of the small hand, in degrees clockwise from twelve o'clock, 0 to 360. */
export function counterDeg(scale: DialScale, counter: number | null): number {
  return scale.counterTurns === 0 || counter === null ? 0 : wrap((counter / scale.counterTurns) * 360);
}

/** Where each moving part stands. */
export function partTransforms(scale: DialScale, stand: DialStand): PartTransforms {
  const faceDeg = wrap((stand.faceTurn / scale.graduations) * 360);
  return {
    face: `rotate(${angle(faceDeg)})`,
    bezel: `rotate(${angle(faceDeg)})`,
    pointer: `rotate(${angle(pointerDeg(scale, stand))})`,
    counter: `rotate(${angle(counterDeg(scale, stand.counter))})`,
    plunger: `translate(0 ${angle(-stand.plungerMm * scale.unitsPerMm)})`,
    clamp: `rotate(${stand.clamped ? 82 : 0} 0 ${-CLAMP_PIVOT})`,
  };
}

/** One turn of the small hand: five turns of the pointer where they hold the whole travel, else ten, as the engine counts them. */
function counterTurns(turns: number): number {
  return Math.ceil(turns - 1e-9) <= 5 ? 5 : 10;
}

function wrap(deg: number): number {
  return ((deg % 360) + 360) % 360;
}

function angle(value: number): string {
  const rounded = Math.round(value * 100) / 100;
  return String(rounded === 0 ? 0 : rounded);
}
