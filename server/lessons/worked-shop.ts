import {
  type BoreDiameter,
  boreDiameter,
  boreResults,
  boreRunOut,
  eccentricityFrom,
  judgeBacklash,
  judgeBore,
  judgeLiner,
  judgeStep,
  type LengthUnit,
  largestStep,
  rockerRatio,
  type SetLimits,
  shownLeaning,
  slantedSpan,
  summarise,
  totalReading,
  valveLift,
} from '../engine/index.ts';
import { type Call, numberOf, oneOf, TemplateProblem, textOf } from './template.ts';
import { UNITS, type WorkedNumbers, worked, writeLength } from './worked-kit.ts';
import { CURVE_WORKED } from './worked-shop-curve.ts';

/** Numbers worked out in the lessons on the other jobs of the shop. Lengths share the unit that is given beside them. */
export const SHOP_WORKED: WorkedNumbers = {
  ...CURVE_WORKED,

  /** `{{span of="0 0.003 -0.002" unit=in}}`: largest less smallest, the whole reading of a turn or a movement. */
  span: (call) => length(call, () => totalReading(numbersOf(call, 'of'))),
  /** `{{average of="0.0025 0.003" unit=in decimals=4}}`. */
  average: (call) => length(call, () => summarise(numbersOf(call, 'of')).mean),
  /** `{{eccentricity of=0.04 unit=mm}}`: half of a whole reading. */
  eccentricity: (call) => length(call, () => eccentricityFrom(numberOf(call, 'of'))),
  /** `{{housing nine=0.004 twelve=-0.003 three=-0.002 lift=0.002 show=vertical unit=in}}`. */
  housing: (call) =>
    length(call, () => {
      const [nine, twelve, three, lift] = ['nine', 'twelve', 'three', 'lift'].map((key) =>
        numberOf(call, key, 0),
      ) as [number, number, number, number];
      return boreRunOut({ nine, twelve, three, lift })[oneOf(call, 'show', ['horizontal', 'vertical'])];
    }),
  /** `{{low length=0.01 degrees=20 unit=in decimals=4}}`: what a plunger out of line with the movement, its tip not sliding, shows too little. */
  low: (call) =>
    length(call, () => {
      const moved = numberOf(call, 'length');
      return moved - shownLeaning(moved, numberOf(call, 'degrees'), 'tip-caught');
    }),
  /** `{{gears teeth="0.006 0.0065" lower=0.004 upper=0.012 spread=0.002 unit=in}}`: the verdict. */
  gears: (call) => {
    const unit = unitOf(call);
    return verdict(
      () => judgeBacklash(numbersOf(call, 'teeth'), limitsOf(call), orNone(call, 'spread'), { unit }),
      call,
    );
  },
  /** `{{liner points="0.002 0.0025" lower=0.001 upper=0.004 within=0.002 unit=in}}`: the verdict. */
  liner: (call) => {
    const limits = { each: limitsOf(call), within: orNone(call, 'within'), between: null };
    return verdict(() => judgeLiner(numbersOf(call, 'points'), limits, limits.each), call);
  },
  /** `{{step means="0.0031 0.0014 0.0026" unit=in decimals=4}}`: the largest between neighbours. */
  step: (call) => length(call, () => largestStep(numbersOf(call, 'means')) ?? 0),
  /** `{{level step=0.0017 between=0.002 unit=in}}`: the verdict on it. */
  level: (call) => {
    const each = { unit: unitOf(call), lower: null, upper: null };
    const limits = { each, within: null, between: numberOf(call, 'between') };
    return judgeStep(numberOf(call, 'step'), limits, each);
  },
  /** `{{diameter ring=4.115 reading=-0.012 unit=in decimals=4}}` of a bore. */
  diameter: (call) => length(call, () => boreDiameter(numberOf(call, 'ring'), numberOf(call, 'reading'))),
  /** `{{slant diameter=4.125 degrees=2 unit=in decimals=4}}`: what a slanting bore gauge spans too much. */
  slant: (call) =>
    length(call, () => {
      const diameter = numberOf(call, 'diameter');
      return slantedSpan(diameter, numberOf(call, 'degrees')) - diameter;
    }),
  /** `{{bore top="4.1280 4.1300" middle="…" bottom="…" show=taper unit=in}}`; along the crank first, then across it. */
  bore: (call) => {
    const show = oneOf(call, 'show', ['largest', 'out-of-round', 'taper']);
    const key = show === 'out-of-round' ? 'outOfRound' : show;
    return length(call, () => boreOf(call)[key]);
  },
  /** The same places with `upper`, `out-of-round` and `taper-limit`: the verdict. */
  'bore-verdict': (call) => {
    const unit = unitOf(call);
    const limits = {
      ...{ unit, nominal: 0, upper: numberOf(call, 'upper') },
      ...{ outOfRound: orNone(call, 'out-of-round'), taper: orNone(call, 'taper-limit') },
    };
    return judgeBore(boreOf(call), limits, { unit });
  },
  /** `{{valve lobe=0.311 ratio=1.5 lash=0.012 unit=in}}`: the lift of the valve. */
  valve: (call) =>
    length(call, () => valveLift(numberOf(call, 'lobe'), numberOf(call, 'ratio'), numberOf(call, 'lash', 0))),
  /** `{{ratio lift=0.4545 lash=0.012 lobe=0.311}}` of a rocker. */
  ratio: (call) =>
    worked(call, () =>
      rockerRatio(numberOf(call, 'lift'), numberOf(call, 'lash', 0), numberOf(call, 'lobe')),
    ).toFixed(2),
};

function unitOf(call: Call): LengthUnit {
  return oneOf(call, 'unit', UNITS);
}

/** A length worked out, with its unit; `decimals` where a tenth of a graduation counts. */
function length(call: Call, work: () => number): string {
  const unit = unitOf(call);
  return `${writeLength(worked(call, work), unit, numberOf(call, 'decimals', unit === 'in' ? 3 : 2))} ${unit}`;
}

function verdict(judge: () => string, call: Call): string {
  let found = '';
  worked(call, () => {
    found = judge();
    return 0;
  });
  return found;
}

function numbersOf(call: Call, key: string): readonly number[] {
  const numbers = textOf(call, key).split(/\s+/).filter(Boolean).map(Number);
  if (numbers.length === 0 || !numbers.every(Number.isFinite))
    throw new TemplateProblem(`holds {{${call.name} ${key}=…}}, which must be numbers with spaces between`);
  return numbers;
}

function orNone(call: Call, key: string): number | null {
  return call.given[key] === undefined ? null : numberOf(call, key);
}

function limitsOf(call: Call): SetLimits {
  return { unit: unitOf(call), lower: orNone(call, 'lower'), upper: orNone(call, 'upper') };
}

function boreOf(call: Call) {
  const diameters = (['top', 'middle', 'bottom'] as const).flatMap((level): BoreDiameter[] => {
    const [along, across, ...more] = numbersOf(call, level);
    if (along === undefined || across === undefined || more.length > 0)
      throw new TemplateProblem(`holds {{${call.name}}}, where ${level} must be two diameters`);
    return [
      { level, axis: 'along', diameter: along },
      { level, axis: 'across', diameter: across },
    ];
  });
  const results = boreResults(diameters);
  if (results === null) throw new TemplateProblem(`holds {{${call.name}}} without a diameter`);
  return results;
}
