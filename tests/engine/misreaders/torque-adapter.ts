import { convertTorque, gradeAttempt, type TorqueUnit } from '../../../server/engine/index.ts';
import { observeTorque, type TorqueAttempt } from '../../support/torque-observer.ts';
import { type Told, tellFrom } from './tally.ts';

interface Known {
  /** On the scale, without the adapter. */
  readonly wanted: number;
  readonly printed: number;
  readonly printedUnit: TorqueUnit;
  readonly scaleUnit: TorqueUnit;
  readonly grip: number;
  readonly overall: number;
  readonly adapter: number;
  readonly angleDeg: number;
}

const along = ({ adapter, angleDeg }: Known) => adapter * Math.cos((angleDeg * Math.PI) / 180);

/** What a student who goes wrong in a known way sets; null where that is no mistake on this job. */
const SETS: Readonly<Record<string, (known: Known) => number | null>> = {
  'adapter-ignored': ({ wanted }) => wanted,
  'ratio-upside-down': (known) => (known.wanted * (known.grip + along(known))) / known.grip,
  'cosine-sign-turned': (known) => (known.wanted * known.grip) / (known.grip - along(known)),
  'sine-for-cosine': ({ wanted, grip, adapter, angleDeg }) =>
    (wanted * grip) / (grip + adapter * Math.sin((angleDeg * Math.PI) / 180)),
  'angle-ignored': ({ wanted, grip, adapter }) => (wanted * grip) / (grip + adapter),
  'length-to-the-wrong-end': (known) => (known.wanted * known.overall) / (known.overall + along(known)),
  'units-mixed': (known) =>
    known.printedUnit === known.scaleUnit ? null : (known.printed * known.grip) / (known.grip + along(known)),
  'adapter-and-units-ignored': ({ printed, printedUnit, scaleUnit }) =>
    printedUnit === scaleUnit ? null : printed,
  'decimal-place': (known) => ((known.wanted * known.grip) / (known.grip + along(known))) * 10,
};

/** Studies students who work out the setting wrongly: each mistake on each joint of many jobs, the setting as written. */
export function studyTorqueAdapter(count: number): Told[] {
  return Array.from({ length: count }, (_, seed) => {
    const attempt = observeTorque({ kind: 'torque-adapter' }, `misread-${seed}`);
    return Object.keys(SETS).flatMap((mistake) =>
      attempt.bench.joints.flatMap((_unused, index) => tellOf(attempt, index, mistake)),
    );
  }).flat();
}

function tellOf({ bench, actions, sheet }: TorqueAttempt, index: number, mistake: string): Told[] {
  const joint = bench.joints[index];
  if (joint === undefined) return [];
  const set = SETS[mistake]?.({
    wanted: convertTorque(joint.wanted, joint.unit, bench.scale.unit),
    ...{ printed: joint.wanted, printedUnit: joint.unit, scaleUnit: bench.scale.unit },
    ...{ grip: bench.gripLength, overall: bench.overallLength },
    ...{ adapter: bench.adapterLength, angleDeg: joint.angleDeg },
  });
  if (set === null || set === undefined) return [];
  const setting = Number((Math.round(set / bench.scale.step) * bench.scale.step).toFixed(3));
  const joints = sheet.joints.map((one) => (one.joint === index + 1 ? { ...one, setting } : one));
  const grade = gradeAttempt(bench, actions, { joints });
  // A mistake that leaves the right setting is none.
  return grade.mistakes.length === 0 ? [] : [tellFrom(mistake, joint.name, grade.mistakes)];
}
