import type { Dial } from '../../dial/dial.ts';
import type { Chance } from '../../random.ts';
import { chanceFor } from '../../random.ts';
import type { SpecificationPage } from './bench.ts';
import type { CamLiftDefinition, CamLiftLevel, Specification } from './types.ts';

/** Nominal lifts by level, in thousandths of an inch and hundredths of a millimetre: between one turn and two, two and three, three and four on an inch dial. */
const NOMINALS = {
  1: { in: [120, 190], mm: [250, 390] },
  2: { in: [200, 290], mm: [500, 740] },
  3: { in: [300, 390], mm: [640, 840] },
} as const;

export function drawSpecification(
  definition: CamLiftDefinition,
  dial: Dial,
  level: CamLiftLevel,
  chance: Chance,
): Specification {
  const [least, most] = NOMINALS[level][dial.unit];
  // Drawn even where the sheet gives one, so that giving it changes nothing else of the bench.
  const nominal = Math.round(chance.uniform(least, most));
  const upperOpen = chance.chance(0.5);
  if (definition.specification !== undefined) {
    const { unit, nominal: given, lower = null, upper = null } = definition.specification;
    return { unit, nominal: given, lower, upper };
  }
  const [scale, allowed] = dial.unit === 'in' ? [1000, 4] : [100, 10];
  return {
    unit: dial.unit,
    nominal: nominal / scale,
    lower: (nominal - allowed) / scale,
    upper: upperOpen ? null : (nominal + allowed) / scale,
  };
}

/** Letters for the letters on camshafts; none that is easily taken for a figure. */
const LETTERS = ['A', 'C', 'F', 'H', 'K', 'N', 'R', 'T', 'W'] as const;
const ROWS = 4;

/**
 * The page of the manual where the specification must be looked up: camshafts of the same engine by the letter stamped on them, their lifts
 * apart by three to six times what is allowed. Null where the specification is given.
 */
export function drawPage(
  { lookUp = false }: CamLiftDefinition,
  dial: Dial,
  right: Specification,
  seed: string,
): SpecificationPage | null {
  if (!lookUp) return null;
  const chance = chanceFor(seed, 'specification-page');
  const own = Math.floor(chance.uniform(0, ROWS));
  const letters = chance.shuffle(LETTERS).slice(0, ROWS).sort();
  const decimals = right.unit === 'in' ? 1000 : 100;
  const apart = Math.round(chance.uniform(3, 6) * (dial.unit === 'in' ? 4 : 10));
  const step = right.unit === dial.unit ? apart / decimals : right.nominal / 20;
  const rows = letters.map((letter, row) => {
    const by = Math.round((row - own) * step * decimals) / decimals;
    const moved = (limit: number | null) =>
      limit === null ? null : Math.round((limit + by) * decimals * 10) / (decimals * 10);
    return {
      letter,
      specification: {
        unit: right.unit,
        nominal: moved(right.nominal) ?? right.nominal,
        lower: moved(right.lower),
        upper: moved(right.upper),
      },
    };
  });
  return { letter: letters[own] ?? 'A', rows };
}
