import { torqueUnitWords } from './torque-codes.ts';
import type { Speak } from './types.ts';
import { listIn, numberIn, textIn } from './types.ts';

const GRIPS: Readonly<Record<string, string>> = {
  choked: 'nearer the head than the mark',
  end: 'at the very end of the handle',
};

/** Remarks of tightening with an adapter. The maker's manual comes before all of them. */
export const TORQUE_REMARKS = {
  'never-pulled': () => ({
    seen: 'Nothing was tightened here with the wrench.',
    why: 'A torque that nobody put on is not there.',
  }),
  'register-not-read': () => ({
    seen: 'The wrench was used before the register was read. It was in date.',
    why: 'A wrench past its check may be off, and nothing about it shows that. The register does.',
  }),
  'wrench-overdue-used': (values) => ({
    seen: `Wrench ${numberIn(values, 'wrench')} was used. The register says its check is past due.`,
    why: 'What it gives is no longer known. Take one that is in date.',
  }),
  'wrench-not-tested': (values) => ({
    seen: `Wrench ${numberIn(values, 'wrench')} was not tried on the torque tester before it was used.`,
    why: 'A wrench that has been dropped can be off long before its check is due.',
  }),
  'wrench-off-used': (values) => ({
    seen: `Wrench ${numberIn(values, 'wrench')} was used, though the tester showed it more than 4 % off.`,
    why: 'A wrench outside its class is set aside and tagged. A sum cannot mend it.',
  }),
  'adapter-not-as-stated': (values) => ({
    seen: `The adapter stood at ${numberIn(values, 'stoodDeg')}°; the job says ${numberIn(values, 'wantedDeg')}°.`,
    why: 'The angle is part of the sum: at another angle the same setting puts another torque on.',
  }),
  'hand-off-the-mark': (values) => ({
    seen: `The hand pulled ${GRIPS[textIn(values, 'place')] ?? 'off the mark'}.`,
    why: 'The sum holds for the length it was made with. With an adapter on, the place of the hand changes the torque.',
  }),
  'not-in-the-order-given': () => ({
    seen: 'The bolts were not tightened in the order given.',
    why: 'The order draws the part down evenly. Out of order it tilts, and a clamp or a seat can be bent.',
  }),
  'not-in-steps': (values) => ({
    seen: `${numberIn(values, 'halved')} of ${numberIn(values, 'bolts')} bolts had about half the torque before the first had all of it.`,
    why: 'First all by half, then all in full: otherwise the first bolt carries the whole load and the others come loose again.',
  }),
  'pulled-with-a-jerk': () => ({
    seen: 'The wrench was pulled with a jerk.',
    why: 'A fast pull goes on past the click before the hand can stop. Pull slowly, the last part above all.',
  }),
  'pulled-past-the-click': () => ({
    seen: 'The wrench was pulled on after the click, or pulled to the click once more.',
    why: 'The click says enough. Every further pull can add torque that nobody has counted.',
  }),
  'bolts-not-marked': () => ({
    seen: 'Not every bolt was marked after its full torque.',
    why: 'A mark shows the next person that no bolt was left out, and later that none has turned.',
  }),
  'threads-left-dirty': (values) => ({
    seen: `Bolt ${numberIn(values, 'bolt')} was tightened with dirty threads.`,
    why: 'Dirt takes up a part of the torque, and the bolt is drawn less tight than the wrench says. Run each bolt down by hand first.',
  }),
  'wrench-not-backed-off': () => ({
    seen: 'The wrench was not turned back to its lowest mark at the end.',
    why: 'A spring left loaded sets, and the wrench reads wrong the next time.',
  }),
  'unit-not-the-scale': (values) => ({
    seen: `The unit written is ${torqueUnitWords(textIn(values, 'written'))}; the scale is in ${torqueUnitWords(textIn(values, 'right'))}.`,
    why: 'A number without its right unit can be twelve times too much. Read the unit off the wrench.',
  }),
  'order-not-as-done': (values) => ({
    seen: `The order written is not the one the bolts were first pulled in: ${listIn(values, 'done').join(', ')}.`,
    why: 'The sheet tells the next person what was done.',
  }),
  'set-without-writing': () => ({
    seen: 'The setting was not written, so nobody can say whether the wrench stood right.',
    why: 'The setting written is what the joint can be checked by later.',
  }),
  'set-otherwise-than-written': (values) => ({
    seen: `The wrench stood at ${numberIn(values, 'set')} at most; the sheet says ${numberIn(values, 'written')}.`,
    why: 'The bolts have what the wrench stood at, not what the sheet says.',
  }),
  'setting-off': (values) => ({
    seen: `The setting written is ${Math.abs(numberIn(values, 'offPercent'))} % ${numberIn(values, 'offPercent') < 0 ? 'less' : 'more'} than the job asks for.`,
    why: 'Setting = torque wanted × L / (L + E cos a): L from the middle of the grip to the square, E from there to the bolt, a from straight ahead.',
  }),
} satisfies Record<string, Speak>;

/** Mistakes in the setting, each as the end of “It looks as if …”. */
export const TORQUE_MISTAKES = {
  'adapter-ignored': {
    clause: 'the adapter was left out of the sum',
    why: 'An adapter that is not square across makes the lever longer or shorter.',
  },
  'ratio-upside-down': {
    clause: 'the ratio was turned upside down',
    why: 'A longer lever needs a lower setting: L goes on top, L + E cos a below.',
  },
  'cosine-sign-turned': {
    clause: 'the adapter was counted the other way, or its angle was measured from the handle’s side',
    why: 'The angle is 0° with the adapter straight ahead, away from the hand, and 180° turned back.',
  },
  'sine-for-cosine': {
    clause: 'the sine was taken for the cosine, or the angle was measured from across',
    why: 'Straight ahead counts in full, and that is the cosine of 0°.',
  },
  'angle-ignored': {
    clause: 'the adapter was counted as if it stood straight ahead',
    why: 'Only E cos a makes the lever longer: at 90° nothing does.',
  },
  'length-to-the-wrong-end': {
    clause: 'the length of the wrench was measured to the wrong end',
    why: 'L goes from the middle of the grip, where the hand pulls, to the square.',
  },
  'units-mixed': {
    clause: 'units of torque were mixed up',
    why: '1 lbf·ft is 12 lbf·in and 1.3558 N·m. Read the unit off the scale.',
  },
  'adapter-and-units-ignored': {
    clause: 'the number on the job was written as it stands, without adapter and unit',
    why: 'First bring it to the unit of the scale, then work the adapter in.',
  },
  'other-joint': {
    clause: 'the setting of another joint was written here',
    why: 'Say the joint aloud as you set the wrench.',
  },
} as const;
