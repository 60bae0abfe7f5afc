import { z } from 'zod';
import { FOLLOW_UP_WORDS, timeWords, VERDICT_WORDS } from '../web/words/index.ts';
import type { SignedAs } from './queries.ts';
import type { SigningRole } from './tables.ts';

/** A whole page of ticks and boxes; each is read by itself. */
export const keptForm = z.record(z.string(), z.unknown());

const options = (words: Readonly<Record<string, string>>) => [
  { value: '', text: 'choose' },
  ...Object.entries(words).map(([value, text]) => ({ value, text })),
];

/** What verdict and follow-up are chosen from. */
export function readingOptions() {
  return { verdicts: options(VERDICT_WORDS), followUps: options(FOLLOW_UP_WORDS) };
}

const ROLE_WORDS: Readonly<Record<SigningRole, string>> = {
  student: 'Student',
  assessor: 'Assessor',
  countersigned: 'Countersigned',
};

/** Clocks further apart than this are both shown: the signature waited for the network, or the phone's clock is wrong. */
const APART_MS = 120_000;

export function signatureWords({ role, name, madeAt, arrivedAt }: SignedAs) {
  const late = Math.abs(Date.parse(arrivedAt) - Date.parse(madeAt)) > APART_MS;
  return {
    ...{ role: ROLE_WORDS[role], name },
    when: late ? `${timeWords(madeAt)}, arrived ${timeWords(arrivedAt)}` : timeWords(arrivedAt),
  };
}
