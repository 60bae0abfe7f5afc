import type { ExerciseKind } from '../kind.ts';
import { generateTorqueAdapter } from './generate.ts';
import { gradeTorqueAdapter } from './grade.ts';
import { startTorqueAdapter, stepTorque } from './step.ts';
import type {
  TorqueAdapterAction,
  TorqueAdapterBench,
  TorqueAdapterBrief,
  TorqueAdapterDefinition,
  TorqueAdapterSeen,
  TorqueAdapterSheet,
  TorqueAdapterState,
  TorqueAdapterView,
} from './types.ts';

function look({ wrench, angleDeg, setting, grip, bolts, at }: TorqueAdapterState): TorqueAdapterView {
  return {
    ...{ kind: 'torque-adapter', wrench, angleDeg, setting, grip, at },
    bolts: bolts.map((joint) => joint.map(({ marked, ranDown, clicked }) => ({ marked, ranDown, clicked }))),
  };
}

/** Torque with an adapter: what to set, the click, order and steps. No gauge on a stand. */
export const torqueAdapter: ExerciseKind<
  TorqueAdapterDefinition,
  TorqueAdapterBench,
  TorqueAdapterState,
  TorqueAdapterAction,
  TorqueAdapterSeen,
  TorqueAdapterView,
  TorqueAdapterBrief,
  TorqueAdapterSheet
> = {
  generate: generateTorqueAdapter,
  start: startTorqueAdapter,
  look: (_bench, state) => look(state),
  act: (bench, before, action) => {
    const { state, said } = stepTorque(bench, before, action);
    return { state, seen: { said, now: look(state) } };
  },
  brief: ({
    kind,
    name,
    joints,
    scale,
    lengthUnit,
    gripLength,
    overallLength,
    adapterLength,
    tester,
    wrenches,
  }) => ({
    ...{ kind, name, joints, scale, lengthUnit, gripLength, overallLength, adapterLength, tester },
    ...{ wrenches: wrenches.length, caution: 'makers-manual-first' },
  }),
  grade: gradeTorqueAdapter,
};
