import { HOLDS_DAYS, type ReferenceState, SPREAD } from './reference.ts';

export const REFERENCE_WORDS: Readonly<Record<ReferenceState, string>> = {
  none: 'not measured yet',
  holds: 'holds',
  'spread-too-wide': `the three set-ups lie more than ${SPREAD.in} in (${SPREAD.mm} mm) apart: measure again`,
  'too-old': `older than ${HOLDS_DAYS} days: measure again`,
  'worked-on': 'the engine was worked on since: measure again',
};
