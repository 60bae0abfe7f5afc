import {
  displacementMm,
  fromMm,
  judgeLiftCurve,
  type LengthUnit,
  type Lobe,
  lobeEvent,
  SOUND_LOBE,
  toMm,
} from '../engine/index.ts';
import { type Call, numberOf, oneOf, TemplateProblem } from './template.ts';
import { type WorkedNumbers, worked, writeLength } from './worked-kit.ts';

/**
 * The injection lobe that the lesson on lift curves plots: sizes in the middle of what the practice engines draw (common practice, no
 * source). Crank degrees count from the cylinder's firing top dead centre.
 */
export const EXAMPLE_LOBE: Lobe = {
  law: 'cycloidal',
  liftMm: toMm(0.24, 'in'),
  riseCamDeg: 50,
  dwellCamDeg: 4,
  fallCamDeg: 90,
  noseCrankDeg: 45,
  condition: SOUND_LOBE,
};

const UNIT: LengthUnit = 'in';

/** Lift of the example lobe at a crank angle, inches. */
export function exampleLift(crankDeg: number, lobe: Lobe = EXAMPLE_LOBE): number {
  return fromMm(displacementMm(lobe, (crankDeg - lobe.noseCrankDeg) / 2), UNIT);
}

/** Its event at a height in inches. @throws RangeError where the nose is not that high. */
export function exampleEvent(height: number) {
  const event = lobeEvent(EXAMPLE_LOBE, toMm(height, UNIT));
  if (event === null) throw new RangeError('The nose is not that high.');
  return event;
}

/** Where a straight line between two lines of a table passes a height. Source: arithmetic. @throws RangeError where it does not lie between them. */
export function passesAt(height: number, [first, second]: readonly [Point, Point]): number {
  if (first.lift === second.lift) throw new RangeError('Two points at one height do not pass another.');
  if ((height - first.lift) * (height - second.lift) > 0)
    throw new RangeError('The height does not lie between the two points.');
  const share = (height - first.lift) / (second.lift - first.lift);
  return first.deg + share * (second.deg - first.deg);
}

interface Point {
  readonly deg: number;
  readonly lift: number;
}

/** Degrees as a table holds them: in whole tenths. */
export function writeDegrees(degrees: number): string {
  return `${degrees.toFixed(1).replace(/\.0$/, '').replace('-', '−')}°`;
}

export const CURVE_WORKED: WorkedNumbers = {
  /** `{{curve-lift crank=20}}`: lift of the example lobe, to a graduation. */
  'curve-lift': (call) => `${liftText(call)} in`,
  /** `{{curve-event at=0.05 show=width}}` of it. */
  'curve-event': (call) => {
    const show = oneOf(call, 'show', ['opens', 'closes', 'width', 'centre']);
    return writeDegrees(worked(call, () => exampleEvent(numberOf(call, 'at'))[`${show}Deg`]));
  },
  /** `{{curve-passes at=0.05 from=0 to=5}}`: a straight line between the example's lifts at two angles, each read to a graduation. */
  'curve-passes': (call) => {
    const point = (key: string) => {
      const deg = numberOf(call, key);
      return { deg, lift: Number(exampleLift(deg).toFixed(3)) };
    };
    return writeDegrees(worked(call, () => passesAt(numberOf(call, 'at'), [point('from'), point('to')])));
  },
  /** `{{degrees from=1.9 to=91.2 show=width}}`: the width between two angles, or their middle. */
  degrees: (call) => {
    const [from, to] = [numberOf(call, 'from'), numberOf(call, 'to')];
    return writeDegrees(oneOf(call, 'show', ['width', 'middle']) === 'width' ? to - from : (from + to) / 2);
  },
  /** `{{curve-verdict lift=0.24 width=113 centre=56 lift-from=0.235 … centre-to=59}}`. */
  'curve-verdict': (call) => {
    const range = (key: string) => ({
      lower: numberOf(call, `${key}-from`),
      upper: numberOf(call, `${key}-to`),
    });
    const limits = { lift: { unit: UNIT, ...range('lift') }, width: range('width'), centre: range('centre') };
    const figures = {
      lift: numberOf(call, 'lift'),
      widthDeg: numberOf(call, 'width'),
      centreDeg: numberOf(call, 'centre'),
    };
    try {
      return judgeLiftCurve(figures, limits, { unit: UNIT });
    } catch (error) {
      if (error instanceof RangeError) throw new TemplateProblem(`holds {{${call.name}}}: ${error.message}`);
      throw error;
    }
  },
};

function liftText(call: Call): string {
  const crankDeg = numberOf(call, 'crank');
  return writeLength(
    worked(call, () => exampleLift(crankDeg)),
    UNIT,
  );
}
