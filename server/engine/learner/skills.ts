import type { Mistake } from '../diagnosis/hypotheses.ts';

/** What a reader of a dial must be able to do, each traced by itself. In the order in which they are taught. */
export const SKILLS = [
  'direction',
  'interpolating',
  'graduation-value',
  'counting-turns',
  'revolution-counter',
  'zero-and-preload',
  'high-point',
  'return-to-zero',
  'verdict',
] as const;

export type Skill = (typeof SKILLS)[number];

/** Skills that a reading asks for, whatever else is on the sheet: one that is right speaks for all of them. */
export const ASKED_BY_A_READING: readonly Skill[] = [
  'direction',
  'interpolating',
  'graduation-value',
  'counting-turns',
  'high-point',
];

/** The skills that a mistake speaks against; none where it says nothing of what the reader can do. The compiler asks for a line each. */
export const AGAINST: Readonly<Record<Mistake, readonly Skill[]>> = {
  'missed-turn': ['counting-turns'],
  'extra-turn': ['counting-turns'],
  'remainder-only': ['counting-turns'],
  'up-and-down': ['counting-turns'],
  'counter-from-zero': ['revolution-counter'],
  'wrong-way': ['direction'],
  'neighbouring-numeral': ['interpolating'],
  'digits-swapped': [],
  'preload-included': ['zero-and-preload'],
  'another-lobe': [],
  'not-the-high-point': ['high-point'],
  'decimal-place': ['graduation-value'],
  'graduation-value': ['graduation-value'],
  'inch-millimetre': ['graduation-value'],
  arithmetic: [],
  'firing-order': [],
  'nothing-measured': [],
  'none-of-these': [],
};

/** The same for the mistakes that only a result of several readings shows. Those that are not here say nothing of these skills. */
export const AGAINST_IN_RESULTS: Readonly<Record<string, readonly Skill[]>> = {
  'sign-turned': ['direction'],
  'wrong-way-round': ['direction'],
  halved: ['graduation-value'],
  doubled: ['graduation-value'],
  'not-the-turning-point': ['high-point'],
  'nominal-for-ring': ['zero-and-preload'],
};

/** The skill that a remark speaks against, by its code. Remarks that are not here say nothing of these skills. */
export const REMARKED: Readonly<Record<string, Skill>> = {
  'not-zeroed': 'zero-and-preload',
  'never-zeroed': 'zero-and-preload',
  'zero-off-base-circle': 'zero-and-preload',
  'zero-off-the-stop': 'zero-and-preload',
  'preload-too-little': 'zero-and-preload',
  'tip-left-the-work': 'zero-and-preload',
  'travel-too-little': 'zero-and-preload',
  'travel-ran-out': 'zero-and-preload',
  'little-preload': 'zero-and-preload',
  'tip-left': 'zero-and-preload',
  'no-travel-left': 'zero-and-preload',
  'contacts-out-of-reach': 'zero-and-preload',
  'zero-off-the-flank': 'zero-and-preload',
  'zero-off-the-deck': 'zero-and-preload',
  'zero-off-the-ring': 'zero-and-preload',
  'zero-off-the-turn': 'zero-and-preload',
  'zero-off-the-base-circle': 'zero-and-preload',
  'zero-off-the-zero-block': 'zero-and-preload',
  'not-rocked': 'high-point',
  'nose-not-passed': 'high-point',
  'return-not-written': 'return-to-zero',
  'return-not-seen': 'return-to-zero',
  'return-misread': 'return-to-zero',
  'zero-not-back': 'return-to-zero',
  'zero-not-seen-again': 'return-to-zero',
  'not-back-to-zero': 'return-to-zero',
  'ring-not-seen-again': 'return-to-zero',
  'base-not-seen-again': 'return-to-zero',
  'return-not-watched': 'return-to-zero',
  'not-back-on-base-circle': 'return-to-zero',
  'verdict-wrong': 'verdict',
  'limit-side-swapped': 'verdict',
  'specification-row-wrong': 'verdict',
  'returned-outside-limits': 'verdict',
  'bad-lobe-passed': 'verdict',
  'replaced-inside-limits': 'verdict',
  'verdict-not-from-result': 'verdict',
  'returned-though-outside': 'verdict',
  'replaced-though-inside': 'verdict',
  'bad-part-passed': 'verdict',
  'lobe-against-valve-limits': 'verdict',
};
