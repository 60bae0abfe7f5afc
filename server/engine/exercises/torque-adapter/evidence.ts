import { settingFor } from './diagnose.ts';
import { type Pull, startTorqueAdapter, stepTorque, type TorqueStep } from './step.ts';
import { NM_PER } from './torque-units.ts';
import type {
  Joint,
  TorqueAdapterAction,
  TorqueAdapterBench,
  TorqueAdapterState,
  TorqueVerdict,
  WrittenJoint,
} from './types.ts';

/** A joint is right when every bolt has its torque to this share. Common practice, no source. */
export const JOINT_WITHIN = 0.05;
/** From this share of the setting on a pull counts as full; from half of it to here as half. */
export const FULL_FROM = 0.75;

export interface TorqueEntry {
  readonly at: number;
  readonly action: TorqueAdapterAction;
  readonly before: TorqueAdapterState;
  readonly step: TorqueStep;
}

/** A pull with its place in the log. */
export interface LoggedPull extends Pull {
  readonly at: number;
}

/** The whole log, folded once; what could not be done is left out. */
export function foldTorque(
  bench: TorqueAdapterBench,
  actions: readonly TorqueAdapterAction[],
): TorqueEntry[] {
  let state = startTorqueAdapter(bench);
  const entries = actions.map((action, at) => {
    const before = state;
    const step = stepTorque(bench, before, action);
    state = step.state;
    return { at, action, before, step };
  });
  return entries.filter(({ step }) => !step.said.some(({ code }) => code === 'cannot'));
}

export function pullsOn(entries: readonly TorqueEntry[], joint: number): LoggedPull[] {
  return entries.flatMap(({ at, step }) => (step.pull?.joint === joint ? [{ ...step.pull, at }] : []));
}

/** What the setting should have been with the adapter as it stood at a pull; as the joint wants it where that cannot be. */
export function wantedAt(bench: TorqueAdapterBench, joint: Joint, angleDeg: number): number {
  return settingFor(bench, joint, angleDeg) ?? settingFor(bench, joint) ?? Number.NaN;
}

/** The share of the full torque that a pull was set to, by the student's own full setting where there is one. */
export function shareOf(bench: TorqueAdapterBench, joint: Joint, pull: Pull, own: number | null): number {
  return pull.setting / (own !== null && own > 0 ? own : wantedAt(bench, joint, pull.angleDeg));
}

/** How every bolt of a joint truly ends. */
export function trueVerdict(
  { wanted, unit }: Joint,
  state: TorqueAdapterState,
  joint: number,
): TorqueVerdict {
  const bolts = state.bolts[joint - 1] ?? [];
  if (bolts.some(({ gaveWay }) => gaveWay)) return 'turns-on';
  return sideOf(bolts.map(({ torqueNm }) => torqueNm / (wanted * NM_PER[unit])));
}

/**
 * How a joint ends by all that the student could perceive: what the wrench was set to against the full setting written, jerks and
 * pulling on, bolts that turned on, and bolts left out or loosened again. Null where nothing was pulled.
 */
export function perceivedVerdict(
  bench: TorqueAdapterBench,
  joint: Joint,
  number: number,
  entries: readonly TorqueEntry[],
  written: WrittenJoint,
): TorqueVerdict | null {
  const shares = new Map<number, number>(joint.order.map((bolt) => [bolt, 0]));
  let turnsOn = false;
  let pulled = false;
  for (const { action, step } of entries) {
    const { pull } = step;
    if ((action.type === 'loosen' || action.type === 'clean') && action.joint === number)
      shares.set(action.bolt, 0);
    if (pull === null || pull.joint !== number) continue;
    pulled = true;
    if (pull.code === 'turns-on-without-click') turnsOn = true;
    else if (pull.code !== 'clicks-at-once')
      shares.set(pull.bolt, shareOf(bench, joint, pull, written.setting) * pull.overshoot);
  }
  if (!pulled) return null;
  return turnsOn ? 'turns-on' : sideOf([...shares.values()]);
}

function sideOf(shares: readonly number[]): TorqueVerdict {
  if (shares.some((share) => share < 1 - JOINT_WITHIN)) return 'below';
  return shares.some((share) => share > 1 + JOINT_WITHIN) ? 'above' : 'inside';
}
