import { shortWay } from './interpolate.ts';

/** What moves on a dial, as a person sees it; part of every kind's sample. */
export interface SpokenSample {
  /** Against the face, in graduations, 0 to n. */
  readonly pointer: number;
  /** Small hand, in turns; null where there is none. */
  readonly counter: number | null;
}

/** What is printed on the face, so that it can be said. */
export interface SpokenFace {
  /** Graduations in one turn of the pointer. */
  readonly graduations: number;
  /** What the numerals rise by at each tenth graduation; 10 where they count graduations. */
  readonly numeralStep?: number;
  /** Numerals count up both ways from zero. */
  readonly balanced?: boolean;
  /** Turns of the pointer for one turn of the small hand; 0 where there is none. */
  readonly counterTurns: number;
}

/** One sentence, and the sample at which it is true. */
export interface SpokenMoment {
  readonly index: number;
  readonly words: string;
}

/** Nearer to zero than this, in graduations, the pointer stands on it: a hand that trembles there does not pass. */
const ON_ZERO = 0.25;
/** Nearer to a whole turn than this the small hand points at its numeral. */
const ON_A_TURN = 0.08;
/** About as far from the middle as an eye still calls it the middle, in turns. */
const HALFWAY = 0.1;

/**
 * A run of the dial for those who hear it: each passing of zero as it comes, then where pointer and small hand stand. What an eye
 * could see and no more: turns are not counted up, and nothing is worked out.
 */
export function spokenRun(samples: readonly SpokenSample[], face: SpokenFace): string[] {
  const last = samples.at(-1);
  if (last === undefined) return [];
  return [...spokenPassings(samples, face).map(({ words }) => words), spokenAtRest(last, face)];
}

/**
 * The passings of zero in a run, each with the sample at which it is seen. A run that begins on zero leaves it; one that ends there
 * comes to it; only what goes on to the other side has passed. Samples lie at most a quarter turn of the pointer apart.
 */
export function spokenPassings(
  samples: readonly SpokenSample[],
  { graduations }: Pick<SpokenFace, 'graduations'>,
): SpokenMoment[] {
  const said: SpokenMoment[] = [];
  let place = samples[0]?.pointer ?? 0;
  let turn: number | null = null;
  for (const [index, sample] of samples.entries()) {
    place += shortWay(place, sample.pointer, graduations);
    const nearest = Math.round(place / graduations);
    if (Math.abs(place - nearest * graduations) < ON_ZERO) {
      if (index === samples.length - 1 && turn !== null && index > 0)
        said.push({ index, words: `The pointer comes to zero, going ${turn < nearest ? 'up' : 'down'}.` });
      continue;
    }
    const now = Math.floor(place / graduations);
    for (let passed: number = turn ?? now; passed !== now; passed += Math.sign(now - passed))
      said.push({ index, words: `The pointer passes zero, going ${now > passed ? 'up' : 'down'}.` });
    turn = now;
  }
  return said;
}

/** Where pointer and small hand stand: "Pointer at 37 of 100; small hand between 2 and 3, nearer 2." */
export function spokenAtRest(sample: SpokenSample, face: SpokenFace): string {
  const hand =
    face.counterTurns === 0 || sample.counter === null ? '' : `; ${handWords(sample.counter, face)}`;
  return `Pointer ${pointerWords(sample.pointer, face)}${hand}.`;
}

function pointerWords(
  pointer: number,
  { graduations, numeralStep = 10, balanced = false }: SpokenFace,
): string {
  const place = toHalf(pointer, graduations);
  if (place === 0) return 'at zero';
  if (!balanced && numeralStep === 10) return `at ${place} of ${graduations}`;
  const isRight = !balanced || place <= graduations / 2;
  const along = isRight ? place : graduations - place;
  const side = !balanced || along === graduations / 2 ? '' : ` on the ${isRight ? 'right' : 'left'}`;
  if (numeralStep === 10) return `at ${along}${side}, ${graduations} graduations round the face`;
  const numeral = Math.floor(along / 10) * numeralStep;
  const over = along % 10;
  const past = over === 0 ? 'at' : `${over} ${over === 1 ? 'graduation' : 'graduations'} past`;
  return `${past} the numeral ${Math.round(numeral * 1000) / 1000}${side}`;
}

/** To half a graduation, as an eye reads it. Only what stands on zero is rounded to it. */
function toHalf(pointer: number, graduations: number): number {
  const held = ((pointer % graduations) + graduations) % graduations;
  const half = Math.round(held * 2) / 2;
  if (half === graduations) return 0;
  return half;
}

function handWords(counter: number, { counterTurns }: SpokenFace): string {
  const shown = ((counter % counterTurns) + counterTurns) % counterTurns;
  const nearest = Math.round(shown);
  if (Math.abs(shown - nearest) < ON_A_TURN) return `small hand at ${nearest % counterTurns}`;
  const from = Math.floor(shown);
  const to = (from + 1) % counterTurns;
  const past = shown - from;
  const between = `between ${from} and ${to}`;
  if (Math.abs(past - 0.5) < HALFWAY) return `small hand ${between}`;
  return `small hand ${between}, nearer ${past < 0.5 ? from : to}`;
}
