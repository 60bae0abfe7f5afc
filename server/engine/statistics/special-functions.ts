/**
 * The two incomplete functions behind every distribution here. Written out because the libraries tried (stdlib's
 * distributions, 55 kB gzip; jstat, 18 kB, untyped and good to seven digits) would outweigh the rest of the engine in the browser.
 * Source: expansions in Abramowitz and Stegun, Handbook of Mathematical Functions, 6.1, 6.5 and 26.5 (from memory);
 * checked against 50-digit arithmetic in tests/engine/statistics.
 */

const { abs, exp, log, log1p, sqrt, PI } = Math;

/** Relative size at which a series or a continued fraction is said to stand still. */
const SETTLED = 2 ** -53;

/** A fraction or a series that has not settled by then has been given something outside its range. */
const MOST_STEPS = 100_000;

/**
 * What Stirling's formula leaves out: ln Γ(z) = (z − ½) ln z − z + ½ ln 2π + this. Positive z.
 * Taking it instead of ln Γ keeps a quotient of large gammas good: with ten thousand degrees of freedom too.
 */
function stirlingRest(z: number): number {
  // The series wants a large z; the recurrence Γ(z + 1) = z Γ(z) brings a small one there.
  let rest = 0;
  let at = z;
  for (; at < 12; at += 1) rest += (at + 0.5) * log1p(1 / at) - 1;
  const s = 1 / (at * at);
  return rest + (1 / 12 - s * (1 / 360 - s * (1 / 1260 - s * (1 / 1680 - s / 1188)))) / at;
}

/** ln of `ratio`, where `off` = ratio − 1 is known better near 1. */
function logOf(ratio: number, off: number): number {
  return abs(off) < 0.5 ? log1p(off) : log(ratio);
}

/** 1 / (b₀ + a₁/(b₁ + a₂/(b₂ + …))), by Lentz's way from the front. */
function continuedFraction(a: (n: number) => number, b: (n: number) => number): number {
  const keepOff = (value: number) => (abs(value) < 1e-300 ? 1e-300 : value);
  let c = 1e300;
  let d = 1 / keepOff(b(0));
  let value = d;
  for (let n = 1; n < MOST_STEPS; n += 1) {
    d = 1 / keepOff(b(n) + a(n) * d);
    c = keepOff(b(n) + a(n) / c);
    const change = c * d;
    value *= change;
    if (abs(change - 1) <= 8 * SETTLED) return value;
  }
  throw new RangeError('The continued fraction did not settle.');
}

/** 1/a + x/(a(a + 1)) + x²/(a(a + 1)(a + 2)) + … */
function series(a: number, x: number): number {
  let term = 1 / a;
  let sum = term;
  for (let n = 1; n < MOST_STEPS; n += 1) {
    term *= x / (a + n);
    sum += term;
    if (term <= sum * SETTLED) return sum;
  }
  throw new RangeError('The series did not settle.');
}

/**
 * Regularised incomplete beta function I_x(a, b), with `y` = 1 − x given beside `x` so that neither end loses digits.
 * a, b positive; x, y on 0..1. Gives 0..1, to about 13 digits of the value itself, small ones too.
 * The continued fraction is Didonato and Morris's (ACM Transactions on Mathematical Software 18, 1992; from memory): its terms do not cancel.
 */
export function regularisedBeta(x: number, y: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (y <= 0) return 1;
  // The fraction is quick below the mean only; above it the other tail is.
  if (x > (a + 1) / (a + b + 2)) return 1 - regularisedBeta(y, x, b, a);
  const off = b * x - a * y;
  const powers = a * logOf((x * (a + b)) / a, off / a) + b * logOf((y * (a + b)) / b, -off / b);
  const front =
    exp(powers - stirlingRest(a) - stirlingRest(b) + stirlingRest(a + b)) *
    sqrt((a * b) / (2 * PI * (a + b)));
  return (
    front *
    continuedFraction(
      (m) => ((a + m - 1) * (a + b + m - 1) * m * (b - m) * x * x) / (a + 2 * m - 1) ** 2,
      (m) => {
        const whole = ((a + m) * (1 - off + m * (1 + y))) / (a + 2 * m + 1);
        // With a = 1 what is left out at the start is 0/0.
        return m === 0 ? whole : whole + m + (m * (b - m) * x) / (a + 2 * m - 1);
      },
    )
  );
}

/**
 * Both regularised incomplete gamma functions: `lower` P(a, x) and `upper` Q(a, x) = 1 − P. a positive, x from 0 up.
 * The smaller of the two is good to about 13 digits of itself.
 */
export function regularisedGamma(a: number, x: number): { readonly lower: number; readonly upper: number } {
  if (x <= 0) return { lower: 0, upper: 1 };
  if (x === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  const off = (x - a) / a;
  const front = exp(a * (logOf(x / a, off) - off) - stirlingRest(a)) * sqrt(a / (2 * PI));
  if (x < a + 1) {
    const lower = front * series(a, x);
    return { lower, upper: 1 - lower };
  }
  const upper =
    front *
    continuedFraction(
      (n) => -n * (n - a),
      (n) => x + 1 - a + 2 * n,
    );
  return { lower: 1 - upper, upper };
}
