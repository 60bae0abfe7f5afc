import { graduationWords } from './lengths.ts';
import { numberIn, type Speak } from './types.ts';

/** Remarks of valve lift. */
export const VALVE_REMARKS = {
  'zero-off-the-base-circle': (values) => ({
    seen: `Zero was taken with the tappet ${graduationWords(numberIn(values, 'offGraduations'))} up on the lobe.`,
    why: 'Lift is counted from the base circle. What the lobe has lifted before the zero is not seen.',
  }),
  'tappet-bled-down': () => ({
    seen: 'The valve’s lift was read with a tappet that gave under the hand.',
    why: 'A hydraulic tappet that has lost its oil takes up a part of the lift. Pump it up, or put a solid one in its place, before measuring.',
  }),
  'nose-not-passed': () => ({
    seen: 'The crank was not barred over the nose of this lobe under a zero.',
    why: 'The lift is known only when the pointer has been seen to turn back.',
  }),
  'base-not-seen-again': () => ({
    seen: 'After the nose the crank was not barred on to the base circle.',
    why: 'Only a pointer that comes back to zero shows that the zero was kept.',
  }),
  'lash-not-measured': () => ({
    seen: 'The rocker was not rocked by hand under a zeroed gauge.',
    why: 'Without the lash the ratio cannot be worked out, and a valve with too much of it looks like a worn lobe.',
  }),
  'rocked-one-way': () => ({
    seen: 'The rocker was rocked one way only.',
    why: 'The lash is from where it touches the pushrod to where it touches the valve. Rock it back and see the zero again.',
  }),
  'lobe-against-valve-limits': () => ({
    seen: 'The verdict written is the one that the lobe’s lift would call for.',
    why: 'The limits here are the valve’s. The rocker makes the valve’s lift larger than the lobe’s.',
  }),
  'ratio-not-worked-out': (values) => ({
    seen: `The rocker ratio written is ${numberIn(values, 'written')}. What is written beside it gives ${numberIn(values, 'right')}.`,
    why: 'Ratio is valve lift and lash together, divided by lobe lift.',
  }),
} satisfies Record<string, Speak>;

/** Mistakes at a valve train. */
export const VALVE_MISTAKES = {
  'another-valve': {
    clause: 'it was read on the other valve',
    why: 'At overlap both valves of a cylinder are open. Look which port a valve leads to before you write.',
  },
  'lobe-and-valve-mixed': {
    clause: 'lobe lift and valve lift changed places',
    why: 'The lobe’s lift is read at the pushrod, the valve’s at the spring retainer, behind the rocker.',
  },
  'lash-added': {
    clause: 'the lash was added to the valve’s lift',
    why: 'The lash is taken up before the valve opens. What the gauge shows on the retainer is without it already.',
  },
  'lash-taken-away': {
    clause: 'the lash was taken away once too often',
    why: 'The gauge on the retainer shows the lift without the lash. For the ratio it is added.',
  },
  'lash-forgotten': {
    clause: 'the lash was left out of the ratio',
    why: 'The rocker moves through the lash before it moves the valve. Add it to the valve’s lift first.',
  },
  'lash-twice': {
    clause: 'the lash was added twice',
    why: 'The rocker takes up the lash once on its way.',
  },
  'ratio-upside-down': {
    clause: 'the ratio was turned upside down',
    why: 'It says how much more the valve moves than the lobe: the valve’s side is on top.',
  },
} as const;
