import { type Dial, liftFromBoxes, type Mistake, type NamedMistake } from '../../engine/index.ts';
import { graduationWords, lengthWords } from './lengths.ts';
import type { About, Words } from './types.ts';

type Named = Exclude<Mistake, 'none-of-these'>;

/** Each mistake as the end of “It looks as if …”, and what to know about it. */
export const READING_MISTAKES: Readonly<Record<Named, { readonly clause: string; readonly why: string }>> = {
  'missed-turn': {
    clause: 'one turn of the pointer was not counted',
    why: 'The pointer looks the same after every turn. Only counting, or the revolution counter, tells turns apart.',
  },
  'extra-turn': {
    clause: 'one turn of the pointer too many was counted',
    why: 'A pointer just short of zero has not finished its turn: round whole turns down.',
  },
  'remainder-only': {
    clause: 'only the pointer was written, without the whole turns',
    why: 'The lift is the whole turns and the pointer together.',
  },
  'counter-from-zero': {
    clause: 'the revolution counter was read as if it had begun at zero',
    why: 'The bezel turns the face, not the small hand. Take the difference between before and the high point.',
  },
  'up-and-down': {
    clause: 'turns of the pointer were counted going up and coming down again',
    why: 'Stop counting where the pointer turns back: the way down is the same lift once more.',
  },
  'wrong-way': {
    clause: 'the face was read the wrong way round',
    why: 'Read the way the pointer ran. On a balanced face the numerals go up on both sides of zero: see which side is yours.',
  },
  'neighbouring-numeral': {
    clause: 'the pointer was read from the numeral next to its own',
    why: 'Find the last numeral the pointer went past, then count single graduations on from it.',
  },
  'digits-swapped': {
    clause: 'two digits changed places',
    why: 'Say the figure aloud as you write it, and read it back from the sheet.',
  },
  'preload-included': {
    clause: 'the preload was counted in with the lift',
    why: 'The lift begins where the bezel was set to zero. What the plunger was pushed in before that is not part of it.',
  },
  'another-lobe': {
    clause: 'the reading of another lobe stands on this line',
    why: 'Write each reading down before you move to the next position, and check the position on the line.',
  },
  'decimal-place': {
    clause: 'the decimal point was put in the wrong place',
    why: 'Say one graduation aloud before you write, and the point falls into its place.',
  },
  'graduation-value': {
    clause: 'a graduation or a turn was given twice or half its value',
    why: 'The value of one graduation is printed on the face. Read it before the first reading.',
  },
  'inch-millimetre': {
    clause: 'inches and millimetres were mixed up',
    why: 'Write the lift in the unit printed on the face of the gauge. One inch is 25.4 mm.',
  },
  'not-the-high-point': {
    clause: 'the reading was written before or after the pointer stood at its highest',
    why: 'Bar slowly past the high point, see the pointer turn back, and read the highest place.',
  },
  arithmetic: {
    clause: 'turns and pointer were added up wrongly',
    why: 'Lift is turns times one turn, plus the pointer.',
  },
  'firing-order': {
    clause: 'the lobes were measured in firing order and written in cylinder order',
    why: 'The readings fit the lobes, each on another line. Write the position beside each reading as you take it.',
  },
  'nothing-measured': {
    clause: 'nothing was measured on this lobe',
    why: 'The log holds no pass of this lobe under a zeroed gauge.',
  },
};

/** What went wrong with a reading, said as carefully as it is known; never an accusation. */
export function mistakeWords(named: NamedMistake, about: About): Words {
  if (named.mistakes.includes('nothing-measured')) {
    return {
      seen: `Nothing was measured on lobe ${named.position}, though its line is filled in.`,
      why: READING_MISTAKES['nothing-measured'].why,
    };
  }
  const compared = comparison(named, about);
  const known = named.mistakes.flatMap((mistake) => (isNamed(mistake) ? [READING_MISTAKES[mistake]] : []));
  const [first, second] = known;
  if (named.how === 'unexplained' || first === undefined) {
    const off =
      named.offGraduations === null
        ? 'The reading is off'
        : `Off by ${graduationWords(named.offGraduations)}`;
    return {
      seen: `${off}; no one mistake explains it. ${sentence(compared)}`.trim(),
      why: 'Look at the plot and the replay together with your instructor.',
    };
  }
  if (named.how === 'either' && second !== undefined) {
    return {
      seen: `It looks as if either ${first.clause} or ${second.clause}: ${compared}.`,
      why: `${first.why} ${second.why}`,
    };
  }
  // One explanation of two mistakes made at once.
  if (second !== undefined) {
    return {
      seen: `It looks as if two things happened: ${first.clause}, and ${second.clause}. ${sentence(compared)}`,
      why: `${first.why} ${second.why}`,
    };
  }
  return { seen: `It looks as if ${first.clause}: ${compared}.`, why: first.why };
}

function isNamed(mistake: string): mistake is Named {
  return Object.hasOwn(READING_MISTAKES, mistake);
}

function comparison(named: NamedMistake, about: About): string {
  const { dial } = about;
  const { written, shown } = lengths(named, about);
  if (written === null || shown === null)
    return named.offGraduations === null
      ? 'the reading is off'
      : `off by ${graduationWords(named.offGraduations)}`;
  return `${lengthWords(written, dial)} written, the gauge showed ${lengthWords(shown, dial)}, ${differenceWords(written - shown, dial)}`;
}

/** Written and shown: of the reading, or of the lift line where it is about that. */
function lengths(
  named: NamedMistake,
  { dial, lobe, written }: About,
): { written: number | null; shown: number | null } {
  if (lobe === null) return { written: null, shown: null };
  if (named.reading === null) {
    const shown = lobe.shown.filter((one) => one !== null);
    const mean = shown.length === 0 ? null : shown.reduce((sum, one) => sum + one, 0) / shown.length;
    return { written: lobe.writtenLift, shown: mean };
  }
  const boxes = written?.readings[named.reading - 1];
  const lift = boxes === undefined ? null : (boxes.lift ?? liftFromBoxes(dial, boxes));
  return { written: lift, shown: lobe.shown[named.reading - 1] ?? null };
}

/** `one whole turn (0.100 in) less`, or the graduations that it is off by. */
function differenceWords(difference: number, dial: Dial): string {
  const way = difference < 0 ? 'less' : 'more';
  const turns = Math.round(difference / dial.rangePerTurn);
  const isWhole = turns !== 0 && Math.abs(difference - turns * dial.rangePerTurn) <= 1.0001 * dial.graduation;
  if (!isWhole) return `${graduationWords(difference / dial.graduation)} ${way}`;
  const count = Math.abs(turns) === 1 ? 'one whole turn' : `${Math.abs(turns)} whole turns`;
  return `${count} (${lengthWords(Math.abs(turns) * dial.rangePerTurn, dial)}) ${way}`;
}

function sentence(words: string): string {
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}.`;
}

/** A mistake by itself, as the end of “It looks as if …”, with what to know about it; null for one that has no name. */
export function mistakeClause(mistake: Mistake): { readonly clause: string; readonly why: string } | null {
  return isNamed(mistake) ? READING_MISTAKES[mistake] : null;
}
