import { expect, it } from 'vitest';
import { AGAINST_IN_RESULTS, REMARKED } from '../../../server/engine/learner/skills.ts';
import { GAUGED_MISTAKES, GAUGED_REMARK_CODES } from '../../../server/web/words/gauged-remarks.ts';
import { REMARK_CODES } from '../../../server/web/words/remarks.ts';

/** Of the rig, of the order of work, of what is only missing: they say nothing of the skills that are traced. */
const OF_OTHER_THINGS: readonly string[] = [
  'no-set-up',
  'tappet-hung',
  'slot-off-pin',
  'indicator-leans',
  'stand-loose',
  'rod-loose',
  'tip-not-lifted',
  'bezel-not-clamped',
  'not-barred',
  'lobe-never-came-up',
  'not-two-turns',
  'one-reading',
  'one-pass-for-two-readings',
  'readings-disagree',
  'backed-up',
  'lift-not-written',
  'nothing-measured',
  'reading-off',
  'lost-with-bad-lobe',
  'verdict-not-written',
  'verdict-without-lift',
  'specification-not-looked-up',
  'gauge-not-chosen',
  'gauge-too-short',
  'gauge-too-fine',
  'gauge-not-on-sheet',
  'next-when-too-close',
  'next-not-written',
  'next-without-verdict',
  'condemned-on-one-set-up',
  'next-not-the-best',
  'below-the-others',
  'roller-not-written',
  'roller-passed',
  'roller-condemned',
  'roller-not-looked-at',
  'let-go-at-compression',
  'nothing-set-up',
  'base-not-wiped',
  'not-lined-up',
  'tip-not-tried',
  'bezel-left-free',
  'gear-not-held',
  'never-moved',
  'hub-not-seated',
  'not-pried-fully',
  'one-way-only',
  'read-only-once',
  'not-a-whole-turn',
  'not-pushed-one-way',
  'one-tooth-only',
  'teeth-left-out',
  'not-rocked-fully',
  'liner-not-pressed',
  'points-left-out',
  'result-without-measurement',
  'result-not-written',
  'result-from-nothing',
  'result-never-shown',
  'high-spot-off',
  'result-not-worked-out',
  'result-off',
  'lost-with-bad-part',
  'no-verdict',
  'verdict-without-result',
  'no-next',
  'next-without-a-verdict',
  'another-next-is-better',
  'condemned-on-one-setting',
  'contacts-not-wiped',
  'zero-not-tried',
  'block-still-warm',
  'places-left-out',
  'off-the-level',
];

it('every remark speaks against a skill or is known to be of something else, and none that is gone is listed', () => {
  const made = new Set<string>([...REMARK_CODES, ...GAUGED_REMARK_CODES]);
  const decided = [...Object.keys(REMARKED), ...OF_OTHER_THINGS];
  expect([...made].filter((code) => !decided.includes(code))).toEqual([]);
  expect(decided.filter((code) => !made.has(code))).toEqual([]);
});

it('every mistake in a result that speaks against a skill is one the engine still names', () => {
  expect(Object.keys(AGAINST_IN_RESULTS).filter((code) => !GAUGED_MISTAKES.includes(code))).toEqual([]);
});
