import type { TorqueAdapterBrief, TorqueCannot, TorqueSaid, TorqueSaidCode } from '../../engine/index.ts';

const UNITS: Readonly<Record<string, string>> = { 'lbf-ft': 'lbf·ft', 'lbf-in': 'lbf·in', 'N-m': 'N·m' };

/** A unit of torque as it is printed. */
export function torqueUnitWords(unit: string): string {
  return Object.hasOwn(UNITS, unit) ? (UNITS[unit] ?? unit) : unit;
}

/** What every sheet of this kind says first. */
export const TORQUE_CAUTIONS: Readonly<Record<TorqueAdapterBrief['caution'], string>> = {
  'makers-manual-first':
    'The engine maker’s manual comes first: its torques, its order, its threads dry or oiled. The numbers here are for practice.',
};

/** What a person with the wrench in hand hears, feels or reads: what was perceived, and never what it means. */
const SAID: Readonly<Record<TorqueSaidCode, string>> = {
  'wrench-in-check': 'in date',
  'wrench-overdue': 'its check is past due',
  'wrench-taken': 'You take the wrench.',
  'adapter-set': 'The adapter is on the square.',
  'wrench-set': 'The wrench is set.',
  'tester-reads': 'At the click the tester reads',
  'hand-moved': 'The hand is at its new place.',
  'runs-freely': 'It runs down freely by hand.',
  'runs-stiffly': 'It runs down stiffly. There is dirt on the threads.',
  'threads-cleaned': 'The threads are clean.',
  click: 'It turns, and the wrench clicks.',
  'click-with-a-jerk': 'The wrench clicks, but the hand has gone on past it.',
  'click-pulled-past': 'The wrench clicks, and it turns on.',
  'clicks-at-once': 'The wrench clicks at once. Nothing turned.',
  'turns-on-without-click': 'It turns and turns, and the wrench does not click.',
  loosened: 'The bolt is loose.',
  marked: 'The bolt is marked.',
  'backed-off': 'The scale stands at its lowest mark.',
  noted: 'Written on the sheet.',
};

const CANNOT: Readonly<Record<TorqueCannot, string>> = {
  'unknown-action': 'That cannot be done here. Reload the page and try again.',
  'not-a-number': 'That is not a number that fits here.',
  'off-the-scale': 'The scale does not go there.',
  'no-wrench': 'Take a wrench first.',
  'no-adapter': 'The bolt is out of reach without the adapter. Put it on.',
  'no-tester': 'There is no torque tester here.',
  'no-such-place': 'There is no such thing here. Choose another.',
  'reaches-past-the-hand': 'The adapter reaches back to the hand: pulling turns nothing.',
};

export const TORQUE_SAID_CODES: readonly string[] = Object.keys(SAID);

export function torquePerceptionWords(said: TorqueSaid): string {
  if (said.code === 'cannot') return CANNOT[said.why];
  if (said.wrench !== undefined) return `Wrench ${said.wrench}: ${SAID[said.code]}.`;
  return said.torque === undefined ? SAID[said.code] : `${SAID[said.code]} ${said.torque}.`;
}
