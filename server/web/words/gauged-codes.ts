import type {
  BacklashVerdict,
  BoreVerdict,
  GaugeCannot,
  GaugeSaid,
  GaugeSaidCode,
  LiftCurveVerdict,
  LinerVerdict,
  TorqueVerdict,
} from '../../engine/index.ts';

/** Verdicts of the kinds other than cam lift. */
export const GAUGED_VERDICT_WORDS: Readonly<
  Record<BacklashVerdict | BoreVerdict | LiftCurveVerdict | LinerVerdict | TorqueVerdict, string>
> = {
  inside: 'inside',
  below: 'below',
  above: 'above',
  uneven: 'uneven',
  'out-of-round': 'out of round',
  tapered: 'tapered',
  'turns-on': 'turning on without its torque',
  shifted: 'off its time',
};

const BOXES: Readonly<Record<string, string>> = {
  'end-play': 'end play',
  highest: 'highest reading',
  lowest: 'lowest reading',
  tir: 'total indicator reading',
  eccentricity: 'eccentricity',
  'high-spot': 'high spot',
  smallest: 'smallest backlash',
  largest: 'largest backlash',
  'largest-diameter': 'largest diameter',
  'out-of-round': 'out-of-round',
  ratio: 'rocker ratio',
  spread: 'spread',
  mean: 'mean of the four',
  within: 'difference within the liner',
  'maximum-lift': 'maximum lift',
  'high-point': 'high point',
  opens: 'opens at',
  closes: 'closes at',
  width: 'event width',
  centre: 'lobe centre',
  between: 'difference between neighbours',
  'largest-error': 'largest error',
  'whole-range': 'error over the whole range',
  'one-turn': 'error inside one turn',
  'adjacent-step': 'step between neighbouring points',
  'found-high': 'high reading as found',
  'found-return': 'return as found',
  'true-high': 'high reading once set right',
  effect: 'effect of the fault',
};

/** A box of the sheet by its code: `reading-2` is “reading 2”. */
export function boxWords(code: string): string {
  return Object.hasOwn(BOXES, code) ? (BOXES[code] ?? code) : code.replaceAll('-', ' ');
}

/** What a person at the bench hears, feels or sees: what was perceived, and never what it means. */
const SAID: Readonly<Record<GaugeSaidCode, string>> = {
  'wiped-grit': 'You wipe the place. There was grit on it.',
  'wiped-clean': 'You wipe the place. The rag stays clean.',
  'indicator-set': 'The indicator stands on the work.',
  'lined-up': 'The plunger is in line with the movement.',
  'nothing-to-lift': 'There is nothing to lift: the plunger is all the way out.',
  'tip-comes-back': 'The tip is let down again. Compare where the pointer stands.',
  'bezel-at-zero': 'The zero of the face is under the pointer.',
  'bezel-clamped': 'The bezel is clamped.',
  'bezel-free': 'The bezel is free to turn.',
  'tip-off-the-work': 'The tip has come off the work. The pointer stands still.',
  'hard-stop': 'The plunger hits the end of its travel. The stand gives way.',
  noted: 'Written on the sheet.',
  'solid-stop': 'It stops solidly.',
  'springy-stop': 'It stops softly.',
  turned: 'The work has been turned.',
  'pushed-one-way': 'The shaft is against its stop.',
  'shaft-wanders': 'The shaft slides a little along its axis as it turns.',
  'gear-held': 'The other gear is held.',
  'gear-free': 'The other gear is free.',
  'both-gears-turn': 'Both gears turn.',
  moved: 'The tip is at the new place.',
  'liner-pressed-down': 'The liner is clamped down already.',
  'liner-goes-down': 'The liner is clamped down evenly.',
  'indicator-fitted': 'The indicator is fitted in the gauge.',
  rocked: 'The gauge has been rocked.',
  'one-temperature': 'Ring and block feel as warm as each other.',
  'work-is-warm': 'The block feels warmer than the ring.',
  'tappet-pumped-up': 'The tappet has been pumped up. It no longer gives under the hand.',
  'tappet-is-solid': 'The tappet does not give under the hand.',
  'work-has-cooled': 'Ring and block have lain side by side until they were as warm as each other.',
  'block-wrung': 'The block is wiped and wrings on: it holds by itself.',
  'block-does-not-wring': 'The block is wiped, but it does not wring on. It slides off again.',
  'block-not-wiped': 'The block lies under the tip as it came out of the box.',
  'let-down': 'The plunger was raised and let down again.',
  'drill-taken-up': 'Another dial stands before you.',
  'pointer-ran': 'The pointer runs, and comes to rest.',
  'pointer-ran-back': 'The pointer runs back to zero.',
  'stop-tried': 'The piston met its stop from both sides. Read the wheel at each.',
  'wheel-set': 'The pointer of the degree wheel is bent to another place.',
};

const CANNOT: Readonly<Record<GaugeCannot, string>> = {
  'unknown-action': 'That cannot be done here. Reload the page and try again.',
  'not-a-number': 'That is not a number. Give one.',
  'too-far': 'That is too far. Give less.',
  'indicator-is-off': 'The indicator is not on the work. Set it up first.',
  'bezel-is-clamped': 'The bezel is clamped. Free it first.',
  'no-such-place': 'There is no such place here. Choose another.',
  'choose-a-place': 'Choose where the tip is to stand first.',
  'held-in-the-hand':
    'This gauge is held in the hand: there is no stand to line up and no tip to lift. Rock it.',
  'pointer-is-there': 'The pointer stands there already. Watch it the other way.',
};

export const GAUGED_SAID_CODES: readonly string[] = Object.keys(SAID);

export function gaugedPerceptionWords(said: GaugeSaid): string {
  return said.code === 'cannot' ? CANNOT[said.why] : SAID[said.code];
}
