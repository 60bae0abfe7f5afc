import { describe, expect, it } from 'vitest';
import { type CalibrationPoint, calibrate } from '../../../server/engine/dial/certificate.ts';
import { DIALS, type Dial, type DialName } from '../../../server/engine/dial/dial.ts';
import { drawGaugeError, REPEAT_GRADUATIONS, shownMm } from '../../../server/engine/dial/gauge-error.ts';
import { findIndicatorLimits, toMm } from '../../../server/engine/index.ts';
import { chanceFor } from '../../../server/engine/random.ts';
import { present } from '../published-case.ts';

/**
 * The procedure of JIS B 7503:2017 (as given on a maker's page, "Dial Indicators JIS B 7503: 2017") on simulated gauges; limits of
 * JIS B 7503:2011 (limits.csv beside this). Spans inside a half or a whole turn are taken over both ways together: the stricter reading.
 */
const GAUGES = 200;
const NAMES = Object.keys(DIALS) as DialName[];
const METRIC = NAMES.filter((name) => DIALS[name].unit === 'mm');
const INCH = NAMES.filter((name) => DIALS[name].unit === 'in');

const spread = (values: readonly number[]) => Math.max(...values) - Math.min(...values);
const bothWays = (points: readonly CalibrationPoint[]) =>
  points.flatMap(({ goingIn, comingBack }) => [goingIn, comingBack]);

/** Largest spread inside any stretch of so many turns, up to a turn. */
function spreadWithin(points: readonly CalibrationPoint[], dial: Dial, turns: number, upTo: number): number {
  const length = turns * dial.rangePerTurn;
  const used = points.filter(({ at }) => at <= upTo * dial.rangePerTurn + 1e-9);
  return Math.max(
    ...used.map((from) =>
      spread(bothWays(used.filter(({ at }) => at >= from.at - 1e-9 && at <= from.at + length + 1e-9))),
    ),
  );
}

function largestStep(points: readonly CalibrationPoint[], dial: Dial): number {
  const used = points.filter(({ at }) => at <= 2 * dial.rangePerTurn + 1e-9);
  const steps = (errors: readonly number[]) =>
    errors.slice(1).map((error, n) => Math.abs(error - (errors[n] ?? 0)));
  return Math.max(
    ...steps(used.map(({ goingIn }) => goingIn)),
    ...steps(used.map(({ comingBack }) => comingBack)),
  );
}

const calibrations = (name: DialName) =>
  Array.from({ length: GAUGES }, (_, seed) => {
    const error = drawGaugeError(DIALS[name], chanceFor(`gauge-${seed}`, 'gauge-error'));
    return { error, points: calibrate(DIALS[name], error) };
  });

describe.each(METRIC)('%s, calibrated as JIS B 7503 says', (name) => {
  const dial = DIALS[name];
  const limits = present(findIndicatorLimits(dial.graduation, dial.travel));
  const all = calibrations(name);
  const worst = (of: (points: readonly CalibrationPoint[]) => number) =>
    1000 * Math.max(...all.map(({ points }) => of(points)));

  it.each([
    ['hysteresis', limits.retraceUm, (p) => Math.max(...p.map((at) => Math.abs(at.comingBack - at.goingIn)))],
    ['any 1/10 turn', limits.tenthTurnUm, (p) => largestStep(p, dial)],
    ['any half turn', limits.halfTurnUm, (p) => spreadWithin(p, dial, 0.5, 5)],
    ['any turn', limits.oneTurnUm, (p) => spreadWithin(p, dial, 1, 10)],
    ['whole range', limits.wholeRangeUm, (p) => spread(bothWays(p))],
  ] satisfies [string, number, (points: readonly CalibrationPoint[]) => number][])(
    'keeps inside the row: %s, %f µm',
    (_, limitUm, of) => {
      expect(worst(of)).toBeLessThanOrEqual(limitUm);
      // And is no perfect gauge: some of them use a good part of what is allowed.
      expect(worst(of)).toBeGreaterThan(0.2 * limitUm);
    },
  );

  it(`repeats within ${limits.repeatabilityUm} µm, five readings at one place`, () => {
    const graduationUm = 1000 * toMm(dial.graduation, dial.unit);
    for (let seed = 0; seed < GAUGES; seed += 1) {
      const chance = chanceFor(`gauge-${seed}`, 'repeat');
      const five = Array.from({ length: 5 }, () => chance.normal(0, REPEAT_GRADUATIONS) * graduationUm);
      expect(spread(five)).toBeLessThanOrEqual(limits.repeatabilityUm);
    }
  });
});

describe.each(INCH)('%s', (name) => {
  const dial = DIALS[name];
  it('is within one graduation of its zero over the first 2½ turns, both ways (AGD, ASME B89.1.10M line)', () => {
    let worst = 0;
    for (const { points } of calibrations(name)) {
      const used = points.filter(({ at }) => at <= 2.5 * dial.rangePerTurn + 1e-9);
      worst = Math.max(worst, ...bothWays(used).map((error) => Math.abs(error) / dial.graduation));
    }
    expect(worst).toBeLessThanOrEqual(1);
    expect(worst).toBeGreaterThan(0.3);
  });
});

describe('the errors of a gauge', () => {
  it('never make it read less for more travel', () => {
    for (const name of NAMES) {
      for (const { error } of calibrations(name).slice(0, 20)) {
        const dial = DIALS[name];
        const stepMm = toMm(dial.graduation, dial.unit);
        for (let k = 1; k < 120; k += 1)
          expect(shownMm(error, dial, k * stepMm)).toBeGreaterThan(shownMm(error, dial, (k - 1) * stepMm));
      }
    }
  });
});
