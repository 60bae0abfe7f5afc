import type { FaultAnswer, SetUpFault } from '../../engine/index.ts';
import { wordsFor } from './codes.ts';
import { listIn, textIn, type Values, type Words } from './types.ts';

/** What may be written on a fault-finding sheet, as it is chosen there. */
export const FAULT_WORDS: Readonly<Record<FaultAnswer, string>> = {
  'tappet-hung': 'the tappet hangs short of the cam',
  'slot-off-pin': 'the tappet’s slot is off its guide pin',
  'tappet-sticky': 'the tappet sticks and stays up',
  'indicator-leans': 'the indicator leans',
  'tip-caught': 'the tip is caught in a centre hole',
  'arm-loose': 'the arm of the stand is loose',
  'base-loose': 'the base of the stand is loose',
  'rod-loose': 'the rod is loose',
  none: 'nothing is wrong with the set-up',
  'worn-lobe': 'the lobe itself is worn',
};

/** Faults made while measuring, which the diagnosis of a set-up knows besides. */
export const SET_UP_FAULT_WORDS: Readonly<Record<SetUpFault, string>> = {
  ...FAULT_WORDS,
  'zero-on-ramp': 'zero was taken on the ramp or on a deposit',
  'zero-on-nose': 'zero was taken on the nose',
  'no-preload': 'there was no preload',
  'travel-ran-out': 'the travel of the gauge ran out',
  'bezel-not-clamped': 'the bezel was not clamped',
  'backed-up': 'the crank was backed up',
};

/** What the gauge does under each: what would tell it. */
const DOES: Readonly<Record<FaultAnswer, string>> = {
  'tappet-hung':
    'the tappet stops dully as it goes in, the pointer sets off suddenly and short, and it drops when the rod is pressed',
  'slot-off-pin': 'the tappet stops far up, and turning it lets the slot find its pin',
  'tappet-sticky': 'the first high reading is right, then the pointer stays up until the rod is pressed',
  'indicator-leans': 'every pass agrees and reads high, and a look along the bore shows the lean',
  'tip-caught': 'every pass agrees and reads low, and a look along the bore shows the tip in the hole',
  'arm-loose': 'the pointer steps one way at compressions, and the arm gives when it is tightened',
  'base-loose': 'the pointer steps one way at compressions, and the base gives when it is tightened',
  'rod-loose':
    'the zero does not come back, the tip comes down on either side, and the rod gives when it is seated firmly',
  none: 'every test comes back clean and the lift is inside its limits',
  'worn-lobe': 'every test comes back clean and the lift is still low, from one set-up to the next',
};

const fault = (values: Values, name: string) => wordsFor(FAULT_WORDS, textIn(values, name));
const does = (values: Values, name: string) => wordsFor(DOES, textIn(values, name));

/** Remarks of fault finding. */
export const FAULT_REMARKS = {
  'lobe-not-measured': () => ({
    seen: 'The lobe never came up under a zeroed gauge.',
    why: 'A fault of the set-up shows in what the gauge does over a whole lobe.',
  }),
  'not-measured-as-found': () => ({
    seen: 'Nothing was measured with the set-up as it was found.',
    why: 'What a fault does to a reading is seen only while it is there.',
  }),
  'not-measured-after': () => ({
    seen: 'The lobe was not measured again with the fault set right.',
    why: 'Only a good reading afterwards shows that this was the fault, and the only one.',
  }),
  'return-not-watched': () => ({
    seen: 'The lobe was not followed back to the base circle.',
    why: 'Half of all faults show in the return.',
  }),
  'fault-not-named': (values: Values) => ({
    seen: `No fault is written. Here ${does(values, 'hidden')}.`,
    why: `In this set-up ${fault(values, 'hidden')}.`,
  }),
  'fault-not-there': (values: Values) => ({
    seen: `Written: ${fault(values, 'written')}. Then ${does(values, 'written')}.`,
    why: `In this set-up ${fault(values, 'hidden')}: ${does(values, 'hidden')}.`,
  }),
  'fault-guessed': (values: Values) => ({
    seen: 'The name is right, but nothing in the log would have shown it.',
    why: `What shows it: ${does(values, 'hidden')}.`,
  }),
  'could-be-either': (values: Values) => ({
    seen: `From what was done it may be either that ${listIn(values, 'either').map(name).join(' or that ')}.`,
    why: `One more test tells them apart: ${does(values, 'hidden')}.`,
  }),
} as const satisfies Readonly<Record<string, (values: Values) => Words>>;

const name = (code: string) => wordsFor(SET_UP_FAULT_WORDS, code);
