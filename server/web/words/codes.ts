import type {
  CamLiftBench,
  Criterion,
  FollowUp,
  NoteBox,
  RigPart,
  RollerVerdict,
  TraceMark,
  Verdict,
} from '../../engine/index.ts';

type LobeTruth = CamLiftBench['lobes'][number];

/** The four criteria, as headings. */
export const CRITERION_WORDS: Readonly<Record<Criterion, string>> = {
  setUp: 'Set-up',
  procedure: 'Procedure',
  reading: 'Reading',
  verdict: 'Verdict and follow-up',
};

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  inside: 'inside',
  below: 'below',
  above: 'above',
  'too-close-to-call': 'too close to call',
};

/** What to do next, as it is chosen on the sheet. */
export const FOLLOW_UP_WORDS: Readonly<Record<FollowUp, string>> = {
  'return-to-service': 'return to service',
  'measure-again': 'clean and measure again',
  'correct-set-up': 'correct the set-up',
  replace: 'replace',
};

/** The state a lobe is in. */
export const CONDITION_WORDS: Readonly<Record<LobeTruth['state'], string>> = {
  sound: 'Sound.',
  worn: 'The nose is worn.',
  'worn-a-turn': 'The nose is worn by about one whole turn of the pointer.',
  'built-up': 'Something has built up on the surface.',
};

/** What the tappet does in its bore. */
export const TAPPET_WORDS: Readonly<Record<LobeTruth['tappet']['fault'], string>> = {
  free: 'Goes home and follows the lobe.',
  'dull-stop': 'Stops short of the cam with a dull sound; a second push seats it.',
  'slot-off-pin': 'Its slot misses the guide pin until it is turned.',
  sticky: 'Sticks: it stays up when the lobe falls away, until it is pressed or the gap grows.',
};

/** The roller's own verdict, as it is chosen on the sheet. */
export const ROLLER_VERDICT_WORDS: Readonly<Record<RollerVerdict, string>> = {
  sound: 'sound',
  'not-again': 'not to be used again',
};

/** The state a roller is in. */
export const ROLLER_WORDS: Readonly<Record<CamLiftBench['rollers'][number]['condition'], string>> = {
  sound: 'Sound.',
  blued: 'Blue from heat.',
  pitted: 'Pitted.',
  scored: 'Scored.',
  flat: 'It has a flat.',
};

/** Parts that hold the indicator, or that it stands on. */
export const RIG_PART_WORDS: Readonly<Record<RigPart, string>> = {
  arm: 'the arm of the stand',
  base: 'the base of the stand',
  rod: 'the rod',
};

/** Boxes of a reading on the sheet; the counter is the revolution counter. */
export const BOX_WORDS: Readonly<Record<NoteBox, string>> = {
  counterBefore: 'counter at zero',
  counterHigh: 'counter at high point',
  turns: 'turns',
  pointer: 'pointer',
  lift: 'lift',
  returned: 'return',
};

/** Where on a lobe a zero was taken. */
export const ZERO_PLACE_WORDS: Readonly<
  Record<'base-circle' | 'ramp' | 'nose' | 'build-up' | 'tappet-up', string>
> = {
  'base-circle': 'on the base circle',
  ramp: 'on the ramp',
  nose: 'on the nose',
  'build-up': 'on a build-up of the base circle',
  'tappet-up': 'with the tappet still up',
};

/** What a plot marks; as the drawing writes it. */
export const TRACE_MARK_WORDS: Readonly<Record<TraceMark['what'], string>> = {
  zero: 'zero',
  high: 'highest',
  return: 'return',
  note: 'written',
  press: 'rod pressed',
  'rolled-back': 'rolled back',
  'missed-high': 'high point missed',
};

/** Words for a code that may come from an older engine: the code itself stands where there are none. */
export function wordsFor(words: Readonly<Record<string, string>>, code: string): string {
  return Object.hasOwn(words, code) ? (words[code] ?? code) : code;
}
