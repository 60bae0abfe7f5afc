import { graduationWords } from './lengths.ts';
import { numberIn, type Speak, textIn } from './types.ts';

/** Where in a cylinder a gauge was that was not at its level. */
const PLACE_IN_BORE: Readonly<Record<string, string>> = {
  above: 'on the ridge above the travel of the rings',
  below: 'below the travel of the rings',
  between: 'between the levels',
};

/** Remarks of the bore gauge. */
export const BORE_REMARKS = {
  'contacts-not-wiped': () => ({
    seen: 'Ring and bore were not wiped before the gauge was zeroed.',
    why: 'A speck of grit under a contact makes a bore look smaller, and it does not stay in one place.',
  }),
  'zero-off-the-ring': () => ({
    seen: 'Zero was taken outside the setting ring.',
    why: 'A bore gauge only compares. Without a zero at a known size its readings are no diameters.',
  }),
  'zero-off-the-turn': (values) => ({
    seen: `Zero was taken with the gauge slanted in the ring, ${graduationWords(numberIn(values, 'offGraduations'))} from where the pointer turns back.`,
    why: 'A slanted gauge spans more than the ring. Every diameter counted from there is off by as much.',
  }),
  'zero-not-tried': () => ({
    seen: 'After the zero the gauge was not rocked to and fro in the ring.',
    why: 'The pointer has to turn back at zero each time. Only then is it zeroed.',
  }),
  'block-still-warm': (values) => ({
    seen: `The block was warmer than the ring when it was measured. Here that makes the bore larger by ${graduationWords(numberIn(values, 'offGraduations'))}.`,
    why: 'Iron grows as it warms. Ring and block have to be as warm as each other.',
  }),
  'places-left-out': (values) => ({
    seen: `The bore was measured at ${numberIn(values, 'measured')} of ${numberIn(values, 'wanted')} places.`,
    why: 'A bore wears most at the top and across the crank. Only all places together show out-of-round and taper.',
  }),
  'not-rocked': () => ({
    seen: 'The gauge was read without rocking it until the pointer turned back.',
    why: 'Held slanted it spans more than the diameter. Where the pointer turns back it stands square.',
  }),
  'contacts-out-of-reach': () => ({
    seen: 'In the bore the plunger was all the way out, even where the gauge stood square.',
    why: 'A gauge whose contacts do not reach the wall shows nothing of the bore. Fit the indicator with more preload.',
  }),
  'off-the-level': (values) => ({
    seen: `The gauge was ${numberIn(values, 'depthMm')} mm below the deck for “${textIn(values, 'level')}”, ${PLACE_IN_BORE[textIn(values, 'where')] ?? 'off its level'}.`,
    why: 'The rings wear the bore only where they travel. Measure just below the ridge, half way, and just above the lowest ring.',
  }),
  'ring-not-seen-again': () => ({
    seen: 'The gauge was not put back into the ring at the end and rocked.',
    why: 'Only a pointer that turns back at zero again shows that the zero was kept.',
  }),
} satisfies Record<string, Speak>;

/** Mistakes with a bore gauge. */
export const BORE_MISTAKES = {
  'not-the-turning-point': {
    clause: 'it was read while the gauge slanted',
    why: 'Rock the gauge and read where the pointer turns back. There it stands square to the bore.',
  },
  'axes-mixed': {
    clause: 'along and across stand on each other’s lines',
    why: 'Along is with the crank, across is where the piston thrusts. Wear is judged by where it is.',
  },
  'nominal-for-ring': {
    clause: 'the amount was counted from the nominal size and not from the ring',
    why: 'Zero is where the gauge stood in the ring. The size marked on the ring is what to count from.',
  },
  'taper-for-out-of-round': {
    clause: 'taper and out-of-round changed places',
    why: 'Out-of-round is between the axes at one level. Taper is between the levels along one axis.',
  },
  'not-the-largest': {
    clause: 'another diameter than the largest was written',
    why: 'The limit holds everywhere in the bore, so the largest counts.',
  },
} as const;
