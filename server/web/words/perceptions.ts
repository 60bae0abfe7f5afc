import type { Perception } from '../../engine/index.ts';
import { RIG_PART_WORDS } from './codes.ts';
import { dialWords } from './dials.ts';
import { limitWords, nominalWords } from './lengths.ts';

type PlainCode = Exclude<
  Perception['code'],
  | 'rolled-back'
  | 'ran-on'
  | 'moved'
  | 'leans'
  | 'was-loose'
  | 'was-tight'
  | 'cannot'
  | 'tallied'
  | 'gauge-in-hand'
  | 'rod-in-hand'
  | 'specification'
>;
type CannotWhy = Extract<Perception, { readonly code: 'cannot' }>['why'];

/**
 * What a person at the bench hears, feels or sees, one sentence a code. They tell what was perceived and never what it
 * means: finding that out is the work. The compiler asks for a sentence for every code.
 */
const PLAIN: Readonly<Record<PlainCode, string>> = {
  'metal-on-metal': 'The tappet stops metal on metal.',
  'dull-stop': 'The tappet stops with a dull sound.',
  'far-up': 'The tappet stands far up in its bore.',
  'roller-bright': 'The roller is bright.',
  'roller-blue': 'The roller has gone blue.',
  'roller-smooth': 'Its surface is smooth.',
  'roller-pits': 'There are small pits in its surface.',
  'roller-scores': 'There are scores along its surface.',
  'roller-round': 'It turns evenly under the thumb.',
  'roller-uneven': 'Under the thumb one place on it is flat.',
  'slot-finds-pin': 'The slot drops over the guide pin.',
  'turns-freely': 'The tappet moves no further: its slot is on the pin.',
  'pointer-drops': 'You press on the rod and the pointer drops.',
  'pointer-holds': 'You press on the rod. The pointer holds still.',
  'tappet-drops': 'You press on the rod and the tappet goes down.',
  'indicator-set': 'The indicator stands on the rod.',
  'nothing-to-lift': 'There is nothing to lift: the plunger is all the way out.',
  'tip-comes-back': 'The tip is let down again. Compare where the pointer stands.',
  'bezel-at-zero': 'The zero of the face is under the pointer.',
  'bezel-clamped': 'The bezel is clamped.',
  'bezel-free': 'The bezel is free to turn.',
  'stands-square': 'The indicator stands in line with the bore.',
  'tip-in-hole': 'The tip sits in the centre hole of the rod.',
  'set-square': 'The indicator stands in line with the bore, its tip on the flat of the rod.',
  click: 'A click from the tappet bore.',
  'tip-off-the-work': 'The tip has come off the rod. The pointer stands still.',
  'hard-stop': 'The plunger hits the end of its travel. The stand gives way.',
  compression: 'The bar pulls hard: compression.',
  'let-go': 'You let go. The engine stays where it is.',
  noted: 'Written on the sheet.',
  'still-rocks': 'The rod rocks in the tappet however firmly it is seated.',
};

const CANNOT: Readonly<Record<CannotWhy, string>> = {
  'unknown-action': 'That cannot be done on this engine. Reload the page and try again.',
  'no-such-position': 'This engine has no such pump position. Choose another.',
  'choose-a-position': 'Move to a pump position first.',
  'choose-a-gauge': 'Take a gauge from the tray first.',
  'choose-a-rod': 'Take a rod first.',
  'nothing-to-choose': 'There is only one here, and it is in your hand.',
  'no-such-row': 'The page has no such row. Look for the letter on the camshaft.',
  'tappet-is-out': 'The tappet is not in. Seat it first.',
  'tappet-is-in':
    'The roller cannot be seen while the tappet is in. Move to the pump position again to lift it out.',
  'indicator-is-off': 'The indicator is not on the work. Set it up first.',
  'bezel-is-clamped': 'The bezel is clamped. Free the clamp first.',
  'not-a-number': 'That is not a number. Write digits, for example 0.5.',
  'too-far': 'That is too far in one go. Choose less.',
};

/** A sentence for what the student perceives. Pure, and safe in the page: it knows nothing that is hidden. */
export function perceptionWords(perception: Perception): string {
  switch (perception.code) {
    case 'rolled-back':
      return `You let go and the engine rolled back ${perception.degrees}°. Keep hold of the bar.`;
    case 'ran-on':
      return `You let go and the engine ran on ${perception.degrees}°. Keep hold of the bar.`;
    case 'moved':
      return `You are at pump position ${perception.position}. The tappet is out and the indicator is off.`;
    case 'leans':
      return `The indicator leans from the line of the bore by about ${perception.degrees}°.`;
    case 'was-loose':
      return perception.part === 'rod'
        ? 'The rod rocked in its seat. Now it stands firm.'
        : `${sentence(RIG_PART_WORDS[perception.part])} was loose. Now it is tight.`;
    case 'was-tight':
      return perception.part === 'rod'
        ? 'The rod stands firm.'
        : `${sentence(RIG_PART_WORDS[perception.part])} is tight.`;
    case 'tallied':
      return perception.count === 1
        ? 'One stroke on your tally.'
        : `${perception.count} strokes on your tally.`;
    case 'gauge-in-hand':
      return `The gauge is in your hand: ${dialWords(perception.gauge)}.`;
    case 'rod-in-hand':
      return `${perception.fit === 'snug' ? 'The rod stands snug in the tappet' : 'The rod rocks a little in the tappet'}; its top ${perception.end === 'flat' ? 'is flat' : 'has a centre hole'}.`;
    case 'specification':
      return `${perception.letter === null ? 'The page says' : `Camshaft ${perception.letter}`}: nominal ${nominalWords(perception)}; ${limitWords(perception)}.`;
    case 'cannot':
      return CANNOT[perception.why];
    default:
      return PLAIN[perception.code];
  }
}

function sentence(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
