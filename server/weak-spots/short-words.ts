import type { Mistake } from '../engine/index.ts';
import { gaugedMistakeClause, mistakeClause } from '../web/words/index.ts';

/** What a weak spot is made of: a stop, a remark, or a mistake that a wrong reading was explained by. */
export type SpotKind = 'stop' | 'remark' | 'mistake';

const STOPS: Readonly<Record<string, string>> = {
  'whole-turn-error': 'A whole turn wrong left standing',
  'bad-lobe-passed': 'A bad lobe passed',
  'bad-part-passed': 'A bad part passed',
  'reading-without-measurement': 'A reading written without a measurement',
};

/** Where the code alone, read as words, would mislead. */
const REMARKS: Readonly<Record<string, string>> = {
  'tappet-hung': 'Tappet hung and not seated',
  'slot-off-pin': 'Slot of the tappet not on its pin',
  'travel-ran-out': 'Plunger ran to the end of its travel',
  'not-two-turns': 'Fewer than two turns barred',
  'one-pass-for-two-readings': 'Two readings written from one pass',
  'return-not-seen': 'Return to zero written and not seen',
  'reading-off': 'Reading off',
  'bad-lobe-passed': 'A bad lobe passed',
  'bad-part-passed': 'A bad part passed',
  'lost-with-bad-lobe': 'Verdict lost with a bad lobe passed',
  'lost-with-bad-part': 'Verdict lost with a bad part passed',
  'limit-side-swapped': 'Above and below the limits taken for each other',
  'next-when-too-close': 'Too close to a limit to call, and called',
  'next-not-the-best': 'Another follow-up would have been better',
  'another-next-is-better': 'Another follow-up would have been better',
  'next-not-written': 'What follows was not written',
  'no-next': 'What follows was not written',
  'next-without-verdict': 'What follows written without a verdict',
  'next-without-a-verdict': 'What follows written without a verdict',
  'no-verdict': 'Verdict not written',
  'below-the-others': 'A lobe below the others not noticed',
  'condemned-on-one-set-up': 'Replaced on one set-up alone',
  'condemned-on-one-setting': 'Replaced on one setting alone',
  'replaced-inside-limits': 'Replaced though inside its limits',
  'returned-outside-limits': 'Returned though outside its limits',
  'roller-passed': 'A bad roller passed',
  'roller-condemned': 'A sound roller condemned',
  'let-go-at-compression': 'Bar let go at compression',
  'gauge-not-on-sheet': 'Gauge used is not the one on the sheet',
  'specification-row-wrong': 'Wrong row of the specification taken',
  'could-be-either': 'Not told apart: could be either fault',
  'fault-not-there': 'A fault named that is not there',
  'wheel-off': 'Degree wheel off top dead centre',
  'off-the-level': 'Bore measured off its level',
  'degrees-off': 'Degrees worked out wrongly',
  'points-off': 'Lines of the table off',
  'points-never-shown': 'Lines of the table the gauge never showed',
  'result-never-shown': 'A result the gauge never showed',
  'result-from-nothing': 'A result from nothing that was read',
  'drill-off': 'Reading off',
  'drill-not-written': 'Reading not written',
  'hand-off-the-mark': 'Hand not on the mark of the wrench',
  'wrench-off-used': 'A wrench that is off used all the same',
  'wrench-overdue-used': 'A wrench overdue for its check used',
  'unit-not-the-scale': 'Unit not the one of the scale',
  'order-not-as-done': 'Order written is not the one pulled',
  'not-in-the-order-given': 'Bolts not pulled in the order given',
  'not-in-steps': 'Torque not brought on in steps',
};

const UNEXPLAINED = 'Wrong, and no one mistake explains it';

/** A stop, a remark or a mistake by itself in a few words, without the numbers of any one attempt. Codes are plain words, so one without an entry is read as such. */
export function shortWords(kind: SpotKind, code: string): string {
  if (kind === 'stop') return STOPS[code] ?? read(code);
  if (kind === 'remark') return REMARKS[code] ?? read(code);
  if (code === 'unexplained') return UNEXPLAINED;
  const clause = mistakeClause(code as Mistake)?.clause ?? gaugedMistakeClause(code);
  return clause === null ? read(code) : `${clause.charAt(0).toUpperCase()}${clause.slice(1)}`;
}

function read(code: string): string {
  const words = code.replaceAll('-', ' ');
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}`;
}
