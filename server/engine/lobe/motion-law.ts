/**
 * Dwell-rise-dwell motion laws. For all: x = cam angle / rise angle on 0..1, s = lift / whole lift on 0..1.
 * Multiply velocity by h/β, acceleration by h/β², jerk by h/β³ (h whole lift, β rise angle).
 * Source: closed forms of cam design handbooks (Norton, Cam Design and Manufacturing Handbook, from memory), checked for
 * end values and continuity against `tests/published/motion-laws`.
 */
export type MotionLawName =
  | 'polynomial-3-4-5'
  | 'polynomial-4-5-6-7'
  | 'cycloidal'
  | 'simple-harmonic'
  | 'modified-sine'
  | 'modified-trapezoid';

export interface MotionLaw {
  /** s(x), 0 to 1. Outside 0..1 the lift stands still at 0 or 1. */
  displacement(x: number): number;
  /** ds/dx; 0 outside 0..1. */
  velocity(x: number): number;
  /** d²s/dx²; 0 outside 0..1. */
  acceleration(x: number): number;
  /** d³s/dx³; 0 outside 0..1. */
  jerk(x: number): number;
}

type Derivatives = readonly [
  (x: number) => number,
  (x: number) => number,
  (x: number) => number,
  (x: number) => number,
];

/**
 * The law of that name; the same object every time. Its x and s have no unit, both 0 to 1. Source: as at `MotionLawName`; checked in
 * tests/published/motion-laws.
 * @throws RangeError for a name that is not a law.
 */
export function motionLaw(name: MotionLawName): MotionLaw {
  const law = LAWS[name];
  if (law === undefined) throw new RangeError(`No motion law is called "${String(name)}".`);
  return law;
}

function lawFrom([s, v, a, j]: Derivatives): MotionLaw {
  const within = (f: (x: number) => number) => (x: number) => (x < 0 || x > 1 ? 0 : f(x));
  return {
    displacement: (x) => (x <= 0 ? 0 : x >= 1 ? 1 : s(x)),
    velocity: within(v),
    acceleration: within(a),
    jerk: within(j),
  };
}

const { PI, sin, cos } = Math;
const TWO_PI = 2 * PI;

/** A polynomial and its first three derivatives; `coefficients[k]` belongs to x^k. */
function polynomial(coefficients: readonly number[]): Derivatives {
  const derive = (c: readonly number[]) => c.slice(1).map((value, k) => value * (k + 1));
  const horner = (c: readonly number[]) => (x: number) => {
    let sum = 0;
    for (let k = c.length - 1; k >= 0; k -= 1) sum = sum * x + (c[k] ?? 0);
    return sum;
  };
  const first = derive(coefficients);
  const second = derive(first);
  return [horner(coefficients), horner(first), horner(second), horner(derive(second))];
}

const MODIFIED_SINE = 1 / (4 + PI);

/** One expression for each stretch of the modified sine: ends (1/8 each) and middle. */
function modifiedSine(ends: (x: number, last: boolean) => number, middle: (x: number) => number) {
  return (x: number) => (x < 1 / 8 ? ends(x, false) : x > 7 / 8 ? ends(x, true) : middle(x));
}

const TRAPEZOID = (8 * PI) / (2 + PI);

/** The modified trapezoid on its first half; the second half mirrors it with the sign given (s and a turn over, v and j do not). */
function trapezoid(
  parts: readonly [(x: number) => number, (x: number) => number, (x: number) => number],
  mirror: 1 | -1,
  offset: number,
) {
  const half = (x: number) => (x < 1 / 8 ? parts[0](x) : x < 3 / 8 ? parts[1](x) : parts[2](x - 3 / 8));
  return (x: number) => (x <= 0.5 ? TRAPEZOID * half(x) : offset + mirror * TRAPEZOID * half(1 - x));
}

const DERIVATIVES: Readonly<Record<MotionLawName, Derivatives>> = {
  'polynomial-3-4-5': polynomial([0, 0, 0, 10, -15, 6]),
  'polynomial-4-5-6-7': polynomial([0, 0, 0, 0, 35, -84, 70, -20]),
  cycloidal: [
    (x) => x - sin(TWO_PI * x) / TWO_PI,
    (x) => 1 - cos(TWO_PI * x),
    (x) => TWO_PI * sin(TWO_PI * x),
    (x) => TWO_PI * TWO_PI * cos(TWO_PI * x),
  ],
  'simple-harmonic': [
    (x) => (1 - cos(PI * x)) / 2,
    (x) => (PI / 2) * sin(PI * x),
    (x) => ((PI * PI) / 2) * cos(PI * x),
    (x) => (-(PI ** 3) / 2) * sin(PI * x),
  ],
  'modified-sine': [
    modifiedSine(
      (x, last) => MODIFIED_SINE * ((last ? 4 : 0) + PI * x - sin(4 * PI * x) / 4),
      (x) => MODIFIED_SINE * (2 + PI * x - (9 / 4) * sin((4 * PI * x + PI) / 3)),
    ),
    modifiedSine(
      (x) => MODIFIED_SINE * PI * (1 - cos(4 * PI * x)),
      (x) => MODIFIED_SINE * PI * (1 - 3 * cos((4 * PI * x + PI) / 3)),
    ),
    modifiedSine(
      (x) => MODIFIED_SINE * 4 * PI * PI * sin(4 * PI * x),
      (x) => MODIFIED_SINE * 4 * PI * PI * sin((4 * PI * x + PI) / 3),
    ),
    modifiedSine(
      (x) => MODIFIED_SINE * 16 * PI ** 3 * cos(4 * PI * x),
      (x) => MODIFIED_SINE * ((16 * PI ** 3) / 3) * cos((4 * PI * x + PI) / 3),
    ),
  ],
  'modified-trapezoid': [
    trapezoid(
      [
        (x) => x / (4 * PI) - sin(4 * PI * x) / (16 * PI * PI),
        (x) => (x * x) / 2 + (1 / (4 * PI) - 1 / 8) * x + 1 / 128 - 1 / (16 * PI * PI),
        (u) =>
          1 / 32 +
          3 / (32 * PI) -
          1 / (16 * PI * PI) +
          (1 / 4 + 1 / (4 * PI)) * u +
          (1 - cos(4 * PI * u)) / (16 * PI * PI),
      ],
      -1,
      1,
    ),
    trapezoid(
      [
        (x) => (1 - cos(4 * PI * x)) / (4 * PI),
        (x) => x + 1 / (4 * PI) - 1 / 8,
        (u) => 1 / 4 + 1 / (4 * PI) + sin(4 * PI * u) / (4 * PI),
      ],
      1,
      0,
    ),
    trapezoid([(x) => sin(4 * PI * x), () => 1, (u) => cos(4 * PI * u)], -1, 0),
    trapezoid([(x) => 4 * PI * cos(4 * PI * x), () => 0, (u) => -4 * PI * sin(4 * PI * u)], 1, 0),
  ],
};

const LAWS = Object.fromEntries(
  Object.entries(DERIVATIVES).map(([name, derivatives]) => [name, lawFrom(derivatives)]),
) as Readonly<Record<MotionLawName, MotionLaw>>;
