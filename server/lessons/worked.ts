import {
  convertLength,
  DIALS,
  type Dial,
  type DialName,
  type DialReading,
  graduationsPerTurn,
  judge,
  type LengthUnit,
  NM_PER_LBF_FT,
  readDial,
  shownLeaning,
  torqueSetting,
} from '../engine/index.ts';
import { type Call, numberOf, oneOf, TemplateProblem } from './template.ts';

const DIAL_NAMES = Object.keys(DIALS) as DialName[];
const UNITS = ['in', 'mm'] as const;

/** A length as a reader writes it: thousandths of an inch or hundredths of a millimetre, and half a graduation where there is one. */
export function writeLength(value: number, unit: LengthUnit, decimals = unit === 'in' ? 3 : 2): string {
  const rounded = value.toFixed(decimals);
  return /^-0\.?0*$/.test(rounded) ? rounded.slice(1) : rounded.replace('-', '−');
}

/** A reading of a dial as turns and pointer, with the small hand's place at zero. The engine reads it back. */
export function readingOf(call: Call): { dial: Dial; reading: DialReading; counterBefore: number } {
  const dial: Dial = DIALS[oneOf(call, 'dial', DIAL_NAMES)];
  const counterBefore = numberOf(call, 'counter', 0);
  const graduations = numberOf(call, 'turns') * graduationsPerTurn(dial) + numberOf(call, 'pointer');
  const travel = graduations * dial.graduation;
  const plungerAtZero = plungerAt(counterBefore, dial);
  if (plungerAtZero + travel > dial.travel)
    throw new TemplateProblem(`holds {{${call.name}}} with a reading past the gauge's travel`);
  const reading = readDial({ ...dial, plungerAtZero, counterAtZero: counterBefore }, travel);
  return { dial, reading, counterBefore };
}

/** How far the plunger is in when the small hand stands at `counter` turns: out, the pointer rests a quarter turn before twelve o'clock. */
export function plungerAt(counter: number, dial: Dial): number {
  return (counter + 0.25) * dial.rangePerTurn;
}

/** Runs the engine on what a lesson gives; what it refuses is the lesson's mistake. @throws TemplateProblem saying why. */
function worked(call: Call, work: () => number): number {
  try {
    return work();
  } catch (error) {
    if (error instanceof RangeError) throw new TemplateProblem(`holds {{${call.name}}}: ${error.message}`);
    throw error;
  }
}

/** The worked numbers a lesson may ask for. Each is computed where it stands, by the engine the practice engines run on. */
export const WORKED: Readonly<Record<string, (call: Call) => string>> = {
  /** `{{reading turns=2 pointer=14 dial=inch-0.001-1}}`; `in=mm` gives it in the other unit. */
  reading: (call) => {
    const { dial, reading } = readingOf(call);
    const unit = oneOf(call, 'in', UNITS, dial.unit);
    const value = convertLength(reading.reading, dial.unit, unit);
    const decimals = unit === dial.unit ? undefined : unit === 'mm' ? 4 : 5;
    return `${writeLength(value, unit, decimals)} ${unit}`;
  },
  /** The small hand at that reading, in turns. */
  counter: (call) => {
    const { reading } = readingOf(call);
    if (reading.counter === null)
      throw new TemplateProblem(`holds {{counter}} of a dial without a small hand`);
    return reading.counter.toFixed(oneOf(call, 'decimals', ['1', '2'], '1') === '2' ? 2 : 1);
  },
  /** `{{dial name=inch-0.001-1 show=turn}}`. */
  dial: (call) => {
    const dial: Dial = DIALS[oneOf(call, 'name', DIAL_NAMES)];
    const show = oneOf(call, 'show', ['graduation', 'turn', 'travel', 'count']);
    if (show === 'count') return String(graduationsPerTurn(dial));
    const value = { graduation: dial.graduation, turn: dial.rangePerTurn, travel: dial.travel }[show];
    return `${writeLength(value, dial.unit)} ${dial.unit}`;
  },
  /** `{{convert length=0.004 from=in to=mm decimals=4}}`. */
  convert: (call) => {
    const to = oneOf(call, 'to', UNITS);
    const value = convertLength(numberOf(call, 'length'), oneOf(call, 'from', UNITS), to);
    return `${writeLength(value, to, numberOf(call, 'decimals', to === 'in' ? 3 : 2))} ${to}`;
  },
  /** `{{mean first=0.236 second=0.237 unit=in}}`, to a tenth of a graduation. */
  mean: (call) => {
    const unit = oneOf(call, 'unit', UNITS);
    const mean = (numberOf(call, 'first') + numberOf(call, 'second')) / 2;
    return `${writeLength(mean, unit, unit === 'in' ? 4 : 3)} ${unit}`;
  },
  /** `{{verdict lift=0.231 lower=0.233}}`; a limit left out is open. */
  verdict: (call) => {
    const limit = (key: string) => (call.given[key] === undefined ? null : numberOf(call, key));
    return judge(numberOf(call, 'lift'), null, { lower: limit('lower'), upper: limit('upper') }).verdict;
  },
  /** `{{lean lift=0.237 degrees=5}}`: what the gauge reads too high. */
  lean: (call) => {
    const lift = numberOf(call, 'lift');
    const shown = worked(call, () => shownLeaning(lift, numberOf(call, 'degrees'), 'leans-on-square-face'));
    return `${(shown - lift).toFixed(4)} in`;
  },
  /** `{{torque lbfft=35}}` in newton metres. */
  torque: (call) => `${(numberOf(call, 'lbfft') * NM_PER_LBF_FT).toFixed(1)} N·m`,
  /** `{{adapter wanted=35 wrench=18 adapter=1.25 angle=0}}`. */
  adapter: (call) =>
    worked(call, () =>
      torqueSetting(
        numberOf(call, 'wanted'),
        numberOf(call, 'wrench'),
        numberOf(call, 'adapter'),
        numberOf(call, 'angle', 0),
      ),
    ).toFixed(1),
};

/** A worked number. @throws TemplateProblem for a name that is not in the list. */
export function workedNumber(call: Call): string {
  const work = Object.hasOwn(WORKED, call.name) ? WORKED[call.name] : undefined;
  if (work === undefined) {
    const known = Object.keys(WORKED).join(', ');
    throw new TemplateProblem(`holds {{${call.name}}}, which is not known; known are figure, ${known}`);
  }
  return work(call);
}
