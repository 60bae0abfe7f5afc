import { convertTorque, torqueSetting } from '../../../server/engine/index.ts';
import { asPrinted, from, type PublishedCase } from '../published-case.ts';

const navy = from('US Navy training manual 14315, figures 3-44 and 3-45', 'seen');
const aircraft = from('an aircraft maker’s maintenance manual', 'seen');
const formula = from('US Army TM 9-254, figure 46 (formula), recomputed', 'computed');

const units = from('NIST SP 811, appendix B (exact definitions), against SciPy’s constants', 'computed');

/** What is put on beyond what was wanted when the wrench is set as if the adapter stood square, per cent. */
const tooMuch = (angleDeg: number) => 100 * (100 / torqueSetting(100, 4, 1, angleDeg) - 1);

export const cases: readonly PublishedCase[] = [
  navy('100 lbf·in, wrench 12 in, adapter 6 in: setting, lbf·in', '66.7', asPrinted('66.7'), () =>
    torqueSetting(100, 12, 6, 0),
  ),
  aircraft('30 lbf·ft, wrench 1 ft, adapter 0.25 ft: setting, lbf·ft', '24', 1e-12, () =>
    torqueSetting(30, 1, 0.25, 0),
  ),
  formula('35 lbf·ft, wrench 18 in, adapter 1.25 in in line', '32.727', asPrinted('32.727'), () =>
    torqueSetting(35, 18, 1.25, 0),
  ),
  formula('the same at 45°', '33.362', asPrinted('33.362'), () => torqueSetting(35, 18, 1.25, 45)),
  formula('the same across, 90°', '35.000', 0, () => torqueSetting(35, 18, 1.25, 90)),
  formula('the same turned back, 180°', '37.612', asPrinted('37.612'), () =>
    torqueSetting(35, 18, 1.25, 180),
  ),
  formula('20 lbf·ft, wrench 16 in, adapter 2 in at 135°', '21.939', asPrinted('21.939'), () =>
    torqueSetting(20, 16, 2, 135),
  ),
  units('20 lbf·ft, N·m', '27.116359', asPrinted('27.116359'), () => convertTorque(20, 'lbf-ft', 'N-m')),
  units('35 lbf·ft, N·m', '47.453628', asPrinted('47.453628'), () => convertTorque(35, 'lbf-ft', 'N-m')),
  units('1 lbf·in, N·m', '0.1129848290276167', 1e-15, () => convertTorque(1, 'lbf-in', 'N-m')),
  units('1 N·m, lbf·ft', '0.737562149277', 1e-12, () => convertTorque(1, 'N-m', 'lbf-ft')),
  units('20 lbf·ft, lbf·in', '240', 1e-12, () => convertTorque(20, 'lbf-ft', 'lbf-in')),
  formula('E/L 0.25 at 85°, not corrected for: too much, %', '2.2', asPrinted('2.2'), () => tooMuch(85)),
  formula('E/L 0.25 at 75°, not corrected for: too much, %', '6.5', asPrinted('6.5'), () => tooMuch(75)),
];
