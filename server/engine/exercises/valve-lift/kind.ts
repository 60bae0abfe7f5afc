import { gaugedKind } from '../../bench-parts/kind.ts';
import { generateValves } from './generate.ts';
import { gradeValves } from './grade.ts';
import type {
  ValveBench,
  ValveBrief,
  ValveDefinition,
  ValveOwnAction,
  ValveSheet,
  ValveState,
  ValveView,
} from './types.ts';
import { inCycle, startValves, valveWork } from './work.ts';

/** Valve lift: lobe lift at the pushrod, valve lift at the retainer, lash at the rocker, and the ratio they give. */
export const valveLiftKind = gaugedKind<
  ValveDefinition,
  ValveBench,
  ValveState,
  ValveOwnAction,
  ValveView,
  ValveBrief,
  ValveSheet
>({
  work: valveWork,
  generate: generateValves,
  start: startValves,
  see: (_bench, state, gauge) => ({
    kind: 'valve-lift',
    spot: state.spot,
    crankDeg: Math.round(inCycle(state)) % 720,
    ...gauge,
  }),
  brief: ({ name, dialName, dial, firingOrder, tappets, valves, specification }) => ({
    kind: 'valve-lift',
    name,
    dialName,
    dial,
    firingOrder,
    tappets,
    valves: valves.map(({ cylinder, valve }) => ({ cylinder, valve })),
    specification,
  }),
  grade: gradeValves,
});
