import {
  cosineFactor,
  DIALS,
  type Dial,
  type DialReading,
  findIndicatorLimits,
  indicatorFigures,
  judgeIndicator,
  readDial,
  shownLeaning,
  summarise,
  trueFromShown,
  type WrittenPoint,
} from '../engine/index.ts';
import { type Call, numberOf, oneOf, TemplateProblem, textOf } from './template.ts';
import { DIAL_NAMES, plungerAt, type WorkedNumbers, worked, writeLength } from './worked-kit.ts';

const FIGURES = ['wholeRange', 'oneTurn', 'adjacent', 'hysteresis', 'repeatability'] as const;
const LEANS = ['leans-on-square-face', 'in-line-with-leaning-rod', 'tip-caught'] as const;

/** Numbers worked out in the lessons on the indicator and its set-up. */
export const INSTRUMENT_WORKED: WorkedNumbers = {
  /** `{{turns count=0.25 dial=inch-0.001-1}}`: so many turns of the pointer, as a length. */
  turns: (call) => length(call, numberOf(call, 'count') * dialOf(call).rangePerTurn),
  /** `{{graduations count=0.2 dial=inch-0.001-1}}`: the same of graduations. */
  graduations: (call) => finely(call, numberOf(call, 'count') * dialOf(call).graduation),
  /** `{{dial-turns dial=inch-0.001-0.25}}`: turns of the pointer in the whole travel. */
  'dial-turns': (call) => {
    const dial = dialOf(call);
    return String(Number((dial.travel / dial.rangePerTurn).toFixed(2)));
  },
  /** `{{shows travel=0.237 dial=inch-0.001-1 part=counter counter=1.4}}`: what a travel from zero brings under the pointer. */
  shows: (call) => {
    const at = shownAt(call);
    switch (oneOf(call, 'part', ['turns', 'pointer', 'counter', 'numeral', 'side'])) {
      case 'turns':
        return String(at.turns).replace('-', '−');
      case 'pointer':
        return String(Math.round(at.pointer * 2) / 2);
      case 'counter':
        return had(call, at.counter, 'small hand').toFixed(1);
      case 'numeral':
        return String(Math.round(had(call, at.numeral, 'balanced face') * 2) / 2);
      case 'side':
        return had(call, at.side, 'balanced face');
    }
  },
  /** `{{room dial=inch-0.001-0.25 lift=0.214 preload=0.025}}`: travel that is left at the top. */
  room: (call) => {
    const left = dialOf(call).travel - numberOf(call, 'lift') - numberOf(call, 'preload');
    return length(call, Number(left.toFixed(6)));
  },
  /** `{{leaning lift=0.237 degrees=8 how=tip-caught}}`: what the gauge shows, in inches. */
  leaning: (call) =>
    `${worked(call, () => shownLeaning(numberOf(call, 'lift'), numberOf(call, 'degrees'), oneOf(call, 'how', LEANS))).toFixed(4)} in`,
  /** `{{straightened shown=0.241 degrees=10}}`: the travel there was under a gauge that leaned on a square face, in inches. */
  straightened: (call) =>
    `${worked(call, () => trueFromShown(numberOf(call, 'shown'), numberOf(call, 'degrees'), 'leans-on-square-face')).toFixed(4)} in`,
  /** `{{cosine degrees=10}}`. */
  cosine: (call) => worked(call, () => cosineFactor(numberOf(call, 'degrees'))).toFixed(4),
  /** `{{check dial=metric-0.01-10 at="0 0.1" up="0 0.102" down="0.001 0.103" show=hysteresis}}`: a span of error from readings over blocks. */
  check: (call) => {
    const show = oneOf(call, 'show', FIGURES);
    return finely(call, had(call, checked(call)[show], show));
  },
  /** The verdict on the same readings against the standard's row for the gauge. */
  'check-verdict': (call) => {
    const dial = dialOf(call);
    const row = limitsOf(call);
    const limits = {
      unit: 'mm' as const,
      wholeRange: row.wholeRange,
      oneTurn: row.oneTurn,
      adjacent: row.adjacent,
      hysteresis: row.hysteresis,
      repeatability: row.repeatability,
    };
    return had(call, judgeIndicator(checked(call), limits, dial), 'every figure');
  },
  /** `{{allowed dial=metric-0.01-10 show=hysteresis}}`: what the standard's row allows. */
  allowed: (call) => `${limitsOf(call)[oneOf(call, 'show', FIGURES)].toFixed(3)} mm`,
  /** `{{spread dial=inch-0.001-1 readings="0.0252 0.0253"}}`: largest less smallest, to a tenth of a graduation. */
  spread: (call) => {
    const dial = dialOf(call);
    const { repeatability } = indicatorFigures([], numbersOf(call, 'readings'), dial);
    return finely(call, had(call, repeatability, 'readings'));
  },
  /** `{{mean-of dial=inch-0.001-1 readings="0.236 0.237 0.237"}}`: the mean of some readings, to a tenth of a graduation. */
  'mean-of': (call) => finely(call, summarise(numbersOf(call, 'readings')).mean),
};

function dialOf(call: Call): Dial {
  return DIALS[oneOf(call, 'dial', DIAL_NAMES)];
}

function length(call: Call, value: number): string {
  const { unit, graduation } = dialOf(call);
  const usual = unit === 'in' ? 0.001 : 0.01;
  return graduation < usual ? finely(call, value) : `${writeLength(value, unit)} ${unit}`;
}

/** To a tenth of the usual graduation. */
function finely(call: Call, value: number): string {
  const { unit } = dialOf(call);
  return `${writeLength(value, unit, unit === 'in' ? 4 : 3)} ${unit}`;
}

function shownAt(call: Call): DialReading {
  const dial = dialOf(call);
  const counterAtZero = numberOf(call, 'counter', 1);
  const plungerAtZero = plungerAt(counterAtZero, dial);
  const travel = numberOf(call, 'travel');
  if (plungerAtZero + travel > dial.travel || plungerAtZero + travel < 0)
    throw new TemplateProblem(`holds {{${call.name}}} with a reading past the gauge's travel`);
  return readDial({ ...dial, plungerAtZero, counterAtZero }, travel);
}

function had<T>(call: Call, value: T | null | undefined, what: string): T {
  if (value === null || value === undefined)
    throw new TemplateProblem(`holds {{${call.name}}} of a gauge or readings without ${what}`);
  return value;
}

/** Numbers with spaces between them. */
function numbersOf(call: Call, key: string): number[] {
  const numbers = textOf(call, key).split(/\s+/).map(Number);
  if (!numbers.every(Number.isFinite))
    throw new TemplateProblem(`holds {{${call.name}}}, where ${key} must be numbers with spaces between`);
  return numbers;
}

function checked(call: Call) {
  const at = numbersOf(call, 'at');
  const [up, down] = [numbersOf(call, 'up'), numbersOf(call, 'down')];
  if (up.length !== at.length || down.length !== at.length)
    throw new TemplateProblem(`holds {{${call.name}}}, where at, up and down are not equally many`);
  const points = at.map(
    (place, n): WrittenPoint => ({ at: place, up: up[n] ?? null, down: down[n] ?? null }),
  );
  const repeats = call.given.repeats === undefined ? [] : numbersOf(call, 'repeats');
  return indicatorFigures(points, repeats, dialOf(call));
}

/** The row of the standard for the gauge, millimetres. */
function limitsOf(call: Call) {
  const dial = dialOf(call);
  const row = dial.unit === 'mm' ? findIndicatorLimits(dial.graduation, dial.travel) : undefined;
  const { wholeRangeUm, oneTurnUm, tenthTurnUm, retraceUm, repeatabilityUm } = had(
    call,
    row,
    'a row of limits',
  );
  return {
    wholeRange: wholeRangeUm / 1000,
    oneTurn: oneTurnUm / 1000,
    adjacent: tenthTurnUm / 1000,
    hysteresis: retraceUm / 1000,
    repeatability: repeatabilityUm / 1000,
  };
}
