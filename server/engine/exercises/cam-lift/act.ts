import { type CamLiftBench, withGauge } from './bench.ts';
import { lookAtCamLift, sampleOf } from './perceive.ts';
import type { CamLiftState } from './state.ts';
import { stepCamLift } from './step.ts';
import type { CamLiftAction, CamLiftSeen } from './types.ts';

/**
 * Does one action. The state given is left alone. `seen` holds only what a person standing there would perceive:
 * pointer to a hundredth of a graduation, at most 1° of crank and a quarter turn of the pointer between samples.
 */
export function actCamLift(
  bench: CamLiftBench,
  state: CamLiftState,
  action: CamLiftAction,
): { state: CamLiftState; seen: CamLiftSeen } {
  const step = stepCamLift(bench, state, action, 'every-degree');
  const inHand = withGauge(bench, state.gauge);
  const samples = step.moments.map((moment) => sampleOf(inHand, moment));
  return { state: step.state, seen: { said: step.said, samples, now: lookAtCamLift(bench, step.state) } };
}
