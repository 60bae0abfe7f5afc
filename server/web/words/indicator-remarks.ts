import type { Speak } from './types.ts';
import { numberIn } from './types.ts';

/** Remarks of the check of an indicator over gauge blocks. */
export const INDICATOR_REMARKS = {
  'zero-off-the-zero-block': () => ({
    seen: 'Zero was taken over another block than the zero block.',
    why: 'Every error is counted from the first place. Zero there, and the sizes on the blocks are what the gauge should show.',
  }),
  'readings-left-blank': (values) => ({
    seen: `${numberIn(values, 'blank')} of ${numberIn(values, 'wanted')} readings of the plan are blank.`,
    why: 'What is not written cannot be judged, and nobody can look at it again later.',
  }),
  'points-up-left-out': (values) => ({
    seen: `Going in, the gauge was read at ${numberIn(values, 'measured')} of the plan’s ${numberIn(values, 'wanted')} whole turns.`,
    why: 'A slow error grows over the whole travel. It is seen only where somebody looks.',
  }),
  'points-inside-a-turn-left-out': (values) => ({
    seen: `Going in, the gauge was read at ${numberIn(values, 'measured')} of the plan’s ${numberIn(values, 'wanted')} points between whole turns.`,
    why: 'An error that comes back every turn is the same at every whole turn, so whole turns cannot show it. It is seen only inside a turn.',
  }),
  'one-direction-only': () => ({
    seen: 'The gauge was read going in only.',
    why: 'Hysteresis is the difference between coming back and going in. It needs both.',
  }),
  'points-down-left-out': (values) => ({
    seen: `Coming back, the gauge was read at ${numberIn(values, 'measured')} of the ${numberIn(values, 'wanted')} points that were read going in.`,
    why: 'A plunger may stick at one place only. The two ways are compared at each point.',
  }),
  'not-past-the-end': () => ({
    seen: 'The plunger was not pushed three graduations past the last point before coming back.',
    why: 'Only then does it come back onto the last point from the other side, and the play is taken up.',
  }),
  'not-repeated-five-times': (values) => ({
    seen: `At one point the plunger was let down ${numberIn(values, 'times')} of 5 times.`,
    why: 'Repeatability is the spread of five readings at one point.',
  }),
  'repeated-one-way': () => ({
    seen: 'The plunger was let down only fast, or only slowly.',
    why: 'One that sticks may come home when it drops and hang when it is eased down. The standard asks for both.',
  }),
  'block-not-wrung': () => ({
    seen: 'A block was read over that had not been wiped, or that did not wring on.',
    why: 'Grit or a burr under a block lifts it, and the gauge is blamed. Wipe it; if it still does not wring, take other blocks for that size.',
  }),
} satisfies Record<string, Speak>;

/** Mistakes of that check, each as the end of “It looks as if …”. */
export const INDICATOR_MISTAKES = {
  'error-for-reading': {
    clause: 'the error was written for the reading',
    why: 'The reading is all that the gauge shows, turns and pointer. The error is the reading less the size of the block.',
  },
  'nominal-for-reading': {
    clause: 'the size of the block was written for the reading',
    why: 'Write what the gauge shows, to a tenth of a graduation. What it should show is on the block.',
  },
  'other-direction': {
    clause: 'going in and coming back stand in each other’s boxes',
    why: 'Hysteresis has a sign: a gauge shows less going in than coming back.',
  },
  'other-line': {
    clause: 'the reading of a neighbouring point was written on this line',
    why: 'Say the size of the block aloud as you write.',
  },
  'wrong-zero': {
    clause: 'the error was counted from another zero than the first reading going in',
    why: 'Errors are counted from what the gauge showed at the first point, going in.',
  },
  'span-for-error': {
    clause: 'the error over the whole range was written for the largest error',
    why: 'The largest error has a sign and is counted from the first point. The whole range is largest less smallest.',
  },
  'one-way-only': {
    clause: 'only one way was looked at',
    why: 'The span is taken over the readings of both ways together.',
  },
  'turn-for-range': {
    clause: 'the error inside one turn was written for the whole range',
    why: 'The whole range takes in every point, wherever it is.',
  },
  'range-for-turn': {
    clause: 'the error over the whole range was written for one turn',
    why: 'Take only points at most one turn of the pointer apart.',
  },
  'step-for-turn': {
    clause: 'the step between neighbours was written for one turn',
    why: 'Inside one turn it is largest less smallest, not only from one point to the next.',
  },
  'turn-for-step': {
    clause: 'the error inside one turn was written for the step between neighbours',
    why: 'The step is from one point to the next, a tenth of a turn on.',
  },
  'steps-too-long': {
    clause: 'points further apart than a tenth of a turn were taken for neighbours',
    why: 'The limit holds for a tenth of a turn. Over a longer step more is allowed.',
  },
  'hysteresis-for-step': {
    clause: 'the hysteresis was written for the step between neighbours',
    why: 'A step is between two points the same way; hysteresis between two ways at one point.',
  },
  'different-points': {
    clause: 'going in and coming back were taken at different points',
    why: 'Hysteresis is the difference at one and the same point; elsewhere the error of the points gets in.',
  },
  'mean-for-largest': {
    clause: 'the mean difference was written for the largest',
    why: 'The limit holds at every point, so the largest counts.',
  },
  'deviation-for-spread': {
    clause: 'the standard deviation was written for the spread',
    why: 'The standard’s limit is for largest less smallest of five.',
  },
  'last-less-first': {
    clause: 'the last of the five was compared with the first',
    why: 'Largest less smallest, whichever they are.',
  },
} as const;
