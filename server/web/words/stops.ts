import type { Dial, Stop } from '../../engine/index.ts';
import { VERDICT_WORDS, wordsFor } from './codes.ts';
import { GAUGED_VERDICT_WORDS } from './gauged-codes.ts';
import { lengthWords } from './lengths.ts';
import { type About, numberIn, textIn, type Words } from './types.ts';

type Speak = (stop: Stop, about: About) => Words;

const STOPS: Readonly<Record<Stop['code'], Speak>> = {
  'whole-turn-error': ({ values }, { dial }) => {
    const turns = numberIn(values, 'wholeTurns');
    const count = Math.abs(turns) === 1 ? 'one whole turn' : `${Math.abs(turns)} whole turns`;
    return {
      seen: `The lift written is ${count} of the pointer (${lengthWords(Math.abs(turns) * dial.rangePerTurn, dial)}) ${turns < 0 ? 'less' : 'more'} than the gauge showed.`,
      why: 'An error of a whole turn makes a good lobe look bad, or a bad one good.',
    };
  },
  'bad-lobe-passed': ({ values }) => ({
    seen: `A lobe that is ${wordsFor(VERDICT_WORDS, textIn(values, 'truly'))} its limits was written down as inside.`,
    why: 'On an engine it would go on working. That is what the measurement must prevent.',
  }),
  'bad-part-passed': ({ values }) => ({
    seen: `What is ${wordsFor(GAUGED_VERDICT_WORDS, textIn(values, 'truly'))} was written down as inside.`,
    why: 'It would go back to work. That is what the measurement must prevent.',
  }),
  'reading-without-measurement': ({ values }) => ({
    seen:
      values.pulled === false
        ? 'A joint is written up, but none of its bolts was pulled.'
        : `A lift is written, but nothing was measured: ${values.barred === true ? 'the lobe never came up after a zero.' : 'no indicator was set on this lobe.'}`,
    why: 'A record may hold only what was measured.',
  }),
};

/** A stop in plain words: what was seen, and why the run cannot count. */
export function stopWords(stop: Stop, about: About): Words {
  const speak = STOPS[stop.code];
  return speak === undefined
    ? { seen: `Stop “${stop.code}”.`, why: 'There are no words for it any more.' }
    : speak(stop, about);
}

/** A stop of a job with an indicator on a stand, or with a wrench: the words of lobes do not fit there. */
export function gaugedStopWords(stop: Stop, dial: Dial): Words {
  const { code, values } = stop;
  switch (code) {
    case 'whole-turn-error': {
      const turns = Math.abs(numberIn(values, 'wholeTurns'));
      const count = turns === 1 ? 'one whole turn' : `${turns} whole turns`;
      return {
        seen: `What is written is ${count} of the pointer (${lengthWords(turns * dial.rangePerTurn, dial)}) ${numberIn(values, 'wholeTurns') < 0 ? 'less' : 'more'} than the gauge showed.`,
        why: 'An error of a whole turn makes a good part look bad, or a bad one good.',
      };
    }
    case 'reading-without-measurement':
      return {
        seen:
          values.pulled === false
            ? 'A joint is written up, but none of its bolts was pulled.'
            : `Results are written, but nothing was measured: ${values.barred === true ? 'nothing was moved under a zeroed gauge.' : 'no indicator was set here.'}`,
        why: 'A record may hold only what was measured.',
      };
    case 'bad-part-passed':
      return {
        seen: `What is ${wordsFor(GAUGED_VERDICT_WORDS, textIn(values, 'truly'))} was written down as inside.`,
        why: 'It would go back to work. That is what the measurement must prevent.',
      };
    default:
      return { seen: `Stop “${code}”.`, why: 'There are no words for it any more.' };
  }
}
