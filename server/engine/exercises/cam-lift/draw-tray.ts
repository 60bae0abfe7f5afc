import { DIALS, type Dial, type DialName } from '../../dial/dial.ts';
import { drawGaugeError } from '../../dial/gauge-error.ts';
import { chanceFor } from '../../random.ts';
import { fromMm, toMm } from '../../units.ts';
import type { RodTruth, TrayGauge } from './bench.ts';
import type { CamLiftDefinition, Specification } from './types.ts';

/** Travel a gauge has more than the lift: for preload, and for what is left at the top. */
const SPARE_IN = 0.05;
/** A graduation under this makes a dozen turns and more of a cam's lift. */
const FINEST_MM = 0.005;

/** A gauge fits when its travel is the lift and 0.050 in more; thousandths of a millimetre are too fine for a cam. Null: it fits. */
export function whyUnfit(dial: Dial, { nominal, unit }: Specification): 'too-short' | 'too-fine' | null {
  if (toMm(dial.graduation, dial.unit) < FINEST_MM) return 'too-fine';
  const neededMm = toMm(nominal, unit) + toMm(SPARE_IN, 'in');
  return fromMm(neededMm, dial.unit) > dial.travel ? 'too-short' : null;
}

const ON_THE_TRAY = 4;

/**
 * The gauges to choose from where choosing is a part of the work: the sheet's own, one that does not fit, and two more of any kind.
 * None where the gauge is given.
 */
export function drawTray(
  { chooseGauge = false }: CamLiftDefinition,
  own: TrayGauge,
  specification: Specification,
  seed: string,
): readonly TrayGauge[] {
  if (!chooseGauge) return [];
  const chance = chanceFor(seed, 'tray');
  const names = chance.shuffle(Object.keys(DIALS) as DialName[]).filter((name) => name !== own.dialName);
  const unfit = names.find((name) => whyUnfit(DIALS[name], specification) !== null);
  const others = names.filter((name) => name !== unfit).slice(0, unfit === undefined ? 3 : 2);
  const drawn = [...(unfit === undefined ? [] : [unfit]), ...others].map((dialName): TrayGauge => {
    const dial: Dial = DIALS[dialName];
    return { dialName, dial, error: drawGaugeError(dial, chanceFor(seed, `gauge-error/${dialName}`)) };
  });
  return chance.shuffle([own, ...drawn].slice(0, ON_THE_TRAY));
}

/** The rods to choose from, in the order they lie: one that fits and is flat on top, one that rocks in the tappet, one with a centre hole. */
export function drawRods({ chooseRod = false }: CamLiftDefinition, seed: string): readonly RodTruth[] {
  if (!chooseRod) return [];
  const chance = chanceFor(seed, 'rods');
  const rocksMm = toMm(chance.uniform(0.001, 0.005), 'in');
  return chance.shuffle<RodTruth>([
    { end: 'flat', rocksMm: 0 },
    { end: 'flat', rocksMm },
    { end: 'centre-hole', rocksMm: 0 },
  ]);
}
