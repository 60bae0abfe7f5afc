import { type Chance, chanceFor } from '../../random.ts';
import { torqueSetting } from '../../torque/torque-setting.ts';
import { convertTorque, NM_PER, type TorqueUnit } from './torque-units.ts';
import type { GivenJoint, Joint, TorqueAdapterBench, TorqueAdapterDefinition } from './types.ts';

/** Common practice, no source. */
const USUAL_JOINTS: readonly GivenJoint[] = [
  { name: 'Pump clamp', wanted: 20, unit: 'lbf-ft', order: [1, 3, 2, 4] },
  { name: 'Line nuts', wanted: 35, unit: 'lbf-ft', order: [1, 2] },
];
const UNITS = ['lbf-ft', 'lbf-in', 'N-m'] as const;
/** What a micrometer scale can be set to. Common practice, no source. */
const STEP: Readonly<Record<TorqueUnit, number>> = { 'lbf-ft': 0.1, 'lbf-in': 1, 'N-m': 0.1 };
/** Never near 60° or 120°: an adapter that is left out of the sum must show. */
const ANGLES = [0, 30, 45, 90, 135, 150, 180];
/** What a wrench in order is off by; ISO 6789:2003 allows a setting tool of type II, class A 4 % above 10 N·m (a maker's review of it). */
const GOOD_ERROR = 0.03;
/** What one out of order is off by: three per cent and more past what the standard allows. */
const BAD_ERROR = [0.07, 0.12] as const;

/**
 * Draws a tightening job. A joint done right ends within 4 % of the torque wanted, of the 5 % it may be off; left out of the sum, an adapter
 * that is not across takes it out of them.
 * @throws RangeError for a level that is not 1, 2 or 3, joints that cannot be, lengths not above 0, or an adapter that reaches back
 * to the hand.
 */
export function generateTorqueAdapter(
  definition: TorqueAdapterDefinition,
  seed: string | number,
): TorqueAdapterBench {
  const text = String(seed);
  const level = definition.level ?? 2;
  if (![1, 2, 3].includes(level)) throw new RangeError('The level must be 1, 2 or 3.');
  const lengths = definition.lengths ?? drawLengths(chanceFor(text, 'lengths'));
  const angles = chanceFor(text, 'angles');
  const joints = (definition.joints ?? USUAL_JOINTS).map((joint, index): Joint => {
    checkJoint(joint);
    const drawn = level === 1 ? [0, 90] : ANGLES;
    // The first joint always has something to work out.
    const angleDeg = angles.pick(index === 0 ? drawn.filter((deg) => deg !== 90) : drawn);
    return { ...joint, angleDeg: joint.angleDeg ?? angleDeg };
  });
  const [first] = joints;
  if (first === undefined) throw new RangeError('There must be a joint to tighten.');
  // Refuses lengths and angles that cannot be.
  const settings = joints.map(({ wanted, unit, angleDeg }) =>
    convertTorque(torqueSetting(wanted, lengths.wrench, lengths.adapter, angleDeg), unit, 'N-m'),
  );
  const unit = definition.scaleUnit ?? (level === 1 ? first.unit : chanceFor(text, 'scale').pick(UNITS));
  const onScale = (torqueNm: number) => Math.round(torqueNm / NM_PER[unit]);
  const bolts = chanceFor(text, 'bolts');
  const dirty = chanceFor(text, 'dirt');
  return {
    version: 1,
    kind: 'torque-adapter',
    seed: text,
    name: definition.name ?? 'Practice engine, pump and lines',
    joints,
    scale: {
      unit,
      step: STEP[unit],
      least: Math.max(STEP[unit], onScale(0.25 * Math.min(...settings))),
      most: onScale(2 * Math.max(...settings)),
    },
    lengthUnit: lengths.unit,
    gripLength: lengths.wrench,
    // The handle goes on past the middle of the grip.
    overallLength: Math.round(lengths.wrench * 1.15 * 4) / 4,
    adapterLength: lengths.adapter,
    tester: level === 3,
    wrenches: drawWrenches(level, chanceFor(text, 'wrenches')),
    stretched: joints.map(({ order }) => {
      const [is, bolt, share] = [bolts.chance(0.32), bolts.pick(order), bolts.uniform(0.65, 0.85)];
      return level > 1 && is ? { bolt, share } : null;
    }),
    dirty: joints.map(({ order }) => {
      const [is, bolt] = [dirty.chance(0.5), dirty.pick(order)];
      return level === 3 && is ? bolt : null;
    }),
    startSetting: onScale(1.3 * Math.max(...settings)),
  };
}

/** Inches, to a quarter; the adapter an eighth to a quarter of the wrench. */
function drawLengths(chance: Chance): NonNullable<TorqueAdapterDefinition['lengths']> {
  const wrench = Math.round(chance.uniform(13, 20) * 2) / 2;
  return { unit: 'in', wrench, adapter: Math.ceil(wrench * chance.uniform(0.125, 0.26) * 4) / 4 };
}

/** The second wrench is always good, so that there is one to take; either may read high or low by a little. */
function drawWrenches(level: number, chance: Chance): TorqueAdapterBench['wrenches'] {
  const small = () => chance.uniform(-GOOD_ERROR, GOOD_ERROR);
  const [first, second, trouble] = [small(), small(), chance.uniform(0, 1)];
  const large = chance.pick([1, -1]) * chance.uniform(...BAD_ERROR);
  const overdue = level > 1 && trouble < 0.3;
  const wrong = level === 3 && trouble >= 0.3 && trouble < 0.65;
  return [
    { error: wrong ? large : first, overdue },
    { error: second, overdue: false },
  ];
}

function checkJoint({ order }: GivenJoint): void {
  const wanted = order.map((_, index) => index + 1).join();
  if (order.length === 0 || [...order].sort((a, b) => a - b).join() !== wanted)
    throw new RangeError('The order names every bolt of the joint once, from 1.');
}
