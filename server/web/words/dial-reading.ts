import type { Dial, NamedMistake, Stop } from '../../engine/index.ts';
import { graduationWords, lengthWords } from './lengths.ts';
import { READING_MISTAKES } from './mistakes.ts';
import { numberIn, type Words } from './types.ts';

interface Told {
  readonly clause: string;
  readonly why: string;
}

/** Mistakes that only a drill has, or that look otherwise on one than on a lobe. */
const ON_A_DRILL: Readonly<Record<string, Told>> = {
  'sign-turned': {
    clause: 'plus and minus were turned round',
    why: 'Plunger in is plus, plunger out is minus: see which way the pointer runs as it leaves zero.',
  },
  'preload-included': {
    clause: 'what the plunger had been in by before zero was counted in with the reading',
    why: 'The reading begins where the bezel was set to zero.',
  },
  'another-lobe': {
    clause: 'the reading of another drill stands on this line',
    why: 'Write each reading down before you go to the next dial, and check the number of the line.',
  },
  'nothing-measured': {
    clause: 'the movement was not watched',
    why: 'The log holds no movement of this pointer. Where it stands does not say how many turns it made.',
  },
};

function told(code: string): Told | undefined {
  if (Object.hasOwn(ON_A_DRILL, code)) return ON_A_DRILL[code];
  return Object.hasOwn(READING_MISTAKES, code)
    ? READING_MISTAKES[code as keyof typeof READING_MISTAKES]
    : undefined;
}

/** What went wrong with the reading of a drill, said as carefully as it is known; never an accusation. */
export function drillMistakeWords({ how, mistakes, offGraduations }: NamedMistake): Words {
  const [first, second] = mistakes.flatMap((code) => told(code) ?? []);
  if (first === undefined) {
    const off = offGraduations === null ? 'It is off' : `Off by ${graduationWords(offGraduations)}`;
    return {
      seen: `${off}; no one mistake explains it.`,
      why: 'Watch the movement once more, and count the turns aloud.',
    };
  }
  if (second === undefined) return { seen: `It looks as if ${first.clause}.`, why: first.why };
  const joined =
    how === 'either'
      ? `either ${first.clause} or ${second.clause}`
      : `${first.clause}, and ${second.clause} as well`;
  return { seen: `It looks as if ${joined}.`, why: `${first.why} ${second.why}` };
}

/** Why a run of drills cannot count. `dial` is that of the drill at the stop's position. */
export function drillStopWords({ code, values }: Stop, dial: Dial): Words {
  if (code === 'reading-without-measurement') {
    return {
      seen: 'A reading is written, but the movement was never watched.',
      why: 'Where a pointer stands does not say how many turns it made. A record may hold only what was measured.',
    };
  }
  if (code === 'whole-turn-error') {
    const turns = numberIn(values, 'wholeTurns');
    const count = Math.abs(turns) === 1 ? 'one whole turn' : `${Math.abs(turns)} whole turns`;
    return {
      seen: `The reading written is ${count} of the pointer (${lengthWords(Math.abs(turns) * dial.rangePerTurn, dial)}) ${turns < 0 ? 'less' : 'more'} than the gauge showed.`,
      why: 'On an engine an error of a whole turn makes a good part look bad, or a bad one good.',
    };
  }
  return { seen: `Stop “${code}”.`, why: 'There are no words for it any more.' };
}
