import { NM_PER_LBF_FT } from '../../units.ts';

/** Units that torque wrenches are marked in. */
export type TorqueUnit = 'lbf-ft' | 'lbf-in' | 'N-m';

/** Newton metres in one of each, exact by definition; a foot has twelve inches. Source: NIST SP 811, appendix B. */
export const NM_PER: Readonly<Record<TorqueUnit, number>> = {
  'lbf-ft': NM_PER_LBF_FT,
  'lbf-in': NM_PER_LBF_FT / 12,
  'N-m': 1,
};

/** A torque in one unit, in another. Any finite number; NaN stays NaN. Never throws. Source: NIST SP 811, as `NM_PER_LBF_FT`. */
export function convertTorque(torque: number, from: TorqueUnit, to: TorqueUnit): number {
  return from === to ? torque : (torque * NM_PER[from]) / NM_PER[to];
}
