import {
  convertLength,
  DIALS,
  type Dial,
  graduationsPerTurn,
  judge,
  NM_PER_LBF_FT,
  shownLeaning,
  torqueSetting,
} from '../engine/index.ts';
import { type Call, numberOf, oneOf, TemplateProblem } from './template.ts';
import { ENGINE_WORKED } from './worked-engine.ts';
import { INSTRUMENT_WORKED } from './worked-instrument.ts';
import { JUDGING_WORKED } from './worked-judging.ts';
import { DIAL_NAMES, readingOf, UNITS, type WorkedNumbers, worked, writeLength } from './worked-kit.ts';
import { SHOP_WORKED } from './worked-shop.ts';

/** The worked numbers a lesson may ask for. Each is computed where it stands, by the engine the practice engines run on. */
const WORKED: WorkedNumbers = {
  ...INSTRUMENT_WORKED,
  ...ENGINE_WORKED,
  ...JUDGING_WORKED,
  ...SHOP_WORKED,

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
