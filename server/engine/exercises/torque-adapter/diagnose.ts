import type { NamedMistake } from '../../grading/types.ts';
import { torqueSetting } from '../../torque/torque-setting.ts';
import { convertTorque, NM_PER } from './torque-units.ts';
import type { Joint, TorqueAdapterBench } from './types.ts';

/** Two settings are the same to this share: what rounding to the scale may leave. */
const SAME = 0.006;

/** The right setting for a joint with its adapter at an angle, on the bench's scale. Null where the adapter reaches back to the hand. */
export function settingFor(
  bench: TorqueAdapterBench,
  joint: Joint,
  angleDeg = joint.angleDeg,
): number | null {
  const wanted = convertTorque(joint.wanted, joint.unit, bench.scale.unit);
  const lever = bench.gripLength + bench.adapterLength * Math.cos((angleDeg * Math.PI) / 180);
  return Number.isFinite(lever) && lever > 0
    ? torqueSetting(wanted, bench.gripLength, bench.adapterLength, angleDeg)
    : null;
}

/**
 * What each mistake makes of the setting, the more usual first. An angle measured from the other end of the line (180° less) gives the
 * cosine the other sign, one measured from across (90° less) makes a sine of it: the same numbers, so one name each.
 */
export function likelySettings(
  bench: TorqueAdapterBench,
  joint: Joint,
): { readonly mistake: string; readonly setting: number }[] {
  const { gripLength: grip, adapterLength: adapter, overallLength: overall, scale } = bench;
  const rad = (joint.angleDeg * Math.PI) / 180;
  const [along, across] = [adapter * Math.cos(rad), adapter * Math.sin(rad)];
  const wanted = convertTorque(joint.wanted, joint.unit, scale.unit);
  const right = (wanted * grip) / (grip + along);
  const factor = NM_PER[joint.unit] / NM_PER[scale.unit];
  const of = (mistake: string, ...settings: readonly number[]) =>
    settings.map((setting) => ({ mistake, setting }));
  return [
    ...of('adapter-ignored', wanted),
    ...of('ratio-upside-down', (wanted * (grip + along)) / grip),
    ...of('cosine-sign-turned', (wanted * grip) / (grip - along)),
    ...of('sine-for-cosine', (wanted * grip) / (grip + across)),
    ...of('angle-ignored', (wanted * grip) / (grip + adapter)),
    ...of(
      'length-to-the-wrong-end',
      (wanted * overall) / (overall + along),
      (wanted * (grip + adapter)) / (grip + adapter + along),
    ),
    ...of('units-mixed', ...(factor === 1 ? [] : [right / factor, right * factor])),
    ...of('units-mixed', right * 12, right / 12, right * NM_PER['lbf-ft'], right / NM_PER['lbf-ft']),
    ...of('adapter-and-units-ignored', ...(factor === 1 ? [] : [joint.wanted])),
    ...of('decimal-place', right * 10, right / 10),
    ...of('other-joint', ...otherSettings(bench, joint)),
  ].filter(({ setting }) => setting > 0 && Number.isFinite(setting));
}

function otherSettings(bench: TorqueAdapterBench, joint: Joint): number[] {
  return bench.joints.flatMap((other) => (other === joint ? [] : (settingFor(bench, other) ?? [])));
}

/** Names what may have made one write this setting: one, either of two, or honestly none. */
export function nameSetting(
  bench: TorqueAdapterBench,
  position: number,
  joint: Joint,
  written: number,
): NamedMistake {
  const near = likelySettings(bench, joint).filter(
    ({ setting }) => Math.abs(written / setting - 1) <= SAME + bench.scale.step / (2 * setting),
  );
  const mistakes = [...new Set(near.map(({ mistake }) => mistake))].slice(0, 2);
  const how = mistakes.length === 1 ? 'one' : mistakes.length === 2 ? 'either' : 'unexplained';
  return { position, reading: null, how, mistakes, offGraduations: null, at: null };
}
