import type { ShopWork } from '../labsheets/index.ts';
import type { GradedShopReading, ShopReading } from './reading.ts';
import type { StepState } from './tables.ts';

/** Something that stands against passing. A stop fails it whatever else is right. */
export interface Against {
  readonly text: string;
  /** The step it is about, from 0; null for the reading. */
  readonly step: number | null;
  readonly stop: boolean;
}

/** What an assessor signs for. */
export interface Outcome {
  readonly passed: boolean;
  readonly against: readonly Against[];
  /** Facts for whoever looks at it later; nobody is judged by them. */
  readonly facts: readonly string[];
}

/** All ticked faster than this is said as a fact. Common practice, no source. */
export const TOO_QUICK_MS = 10_000;

/**
 * Whether work on a shop engine is passed: every step that must be done alone was, no hold point was left unseen, no other step was left
 * undone, prompts elsewhere at most as many as the sheet allows, and the reading agrees with the reference. `states` are by step, from 0;
 * `tickedAt` are the moments the assessor's ticks were made. Common practice, no source.
 */
export function outcomeOf(
  work: ShopWork,
  states: ReadonlyMap<number, StepState>,
  reading: ShopReading,
  graded: GradedShopReading,
  tickedAt: readonly string[],
): Outcome {
  const against: Against[] = [];
  let prompts = 0;
  for (const [index, step] of work.steps.entries()) {
    const found = againstStep(step, states.get(index));
    if (found !== null) against.push({ ...found, text: `Step ${index + 1}: ${found.text}`, step: index });
    else if (states.get(index) === 'with-prompt') prompts += 1;
  }
  if (prompts > work.prompts)
    against.push({
      text: `${prompts} prompts; at most ${work.prompts} are allowed.`,
      step: null,
      stop: false,
    });
  against.push(...againstReading(reading, graded, work));
  return { passed: against.length === 0, against, facts: factsOf(work, tickedAt, reading, graded) };
}

function againstStep(
  { hold, alone }: ShopWork['steps'][number],
  state: StepState | undefined,
): { readonly text: string; readonly stop: boolean } | null {
  if (state === undefined)
    return { text: hold ? 'a hold point that nobody has ticked.' : 'not ticked.', stop: hold };
  if (state === 'not-done')
    return { text: hold ? 'a hold point that was skipped.' : 'not done.', stop: hold };
  if (state === 'not-seen' && (hold || alone))
    return { text: hold ? 'a hold point that was not seen.' : 'not seen, and must be.', stop: hold };
  if (state === 'with-prompt' && alone)
    return { text: 'with a prompt, and must be done alone.', stop: false };
  return null;
}

function againstReading(reading: ShopReading, graded: GradedShopReading, { agreement }: ShopWork): Against[] {
  const found: Against[] = [];
  const say = (text: string, stop = false) => found.push({ text, step: null, stop });
  if (reading.lift === null) say('No lift is written down.', true);
  else if (graded.agrees === false)
    say(
      `The lift does not lie within ${agreement.value} ${agreement.unit} of the reference.`,
      graded.mistake === 'missed-turn' || graded.mistake === 'extra-turn',
    );
  if (reading.high === null || reading.second === null) say('Two readings are asked for.');
  else if (graded.repeats === false) say('The second reading does not agree with the first.');
  if (reading.verdict === null) say('No verdict is written down.');
  else if (graded.verdictRight === false) say('The verdict is not what the limits say.');
  return found;
}

function factsOf(
  work: ShopWork,
  tickedAt: readonly string[],
  reading: ShopReading,
  graded: GradedShopReading,
): string[] {
  const facts: string[] = [];
  const times = tickedAt.map((at) => Date.parse(at)).filter((time) => !Number.isNaN(time));
  if (times.length >= work.steps.length && Math.max(...times) - Math.min(...times) < TOO_QUICK_MS)
    facts.push('All steps were ticked within ten seconds.');
  if (graded.agrees === null && reading.lift !== null)
    facts.push('No reference held for this lobe: the lift was not compared.');
  return facts;
}
