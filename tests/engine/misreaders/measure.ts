import { explainReading, type Mistake, type Naming, nameMistake } from '../../../server/engine/index.ts';
import { type Chance, chanceFor } from '../../../server/engine/random.ts';
import {
  type Attempt,
  carefulEye,
  colliding,
  collidingPairs,
  combine,
  type Filled,
  makeAttempt,
} from './attempt.ts';
import { drawMeasurement, type Measurement, type Work } from './job.ts';
import { MISREADINGS, type Misreading } from './misreadings.ts';

/** How often each mistake is made on a continuous face. Common practice, no source. */
const OFTEN: Readonly<Partial<Record<Mistake, number>>> = {
  'missed-turn': 0.2,
  'not-the-high-point': 0.11,
  'counter-from-zero': 0.08,
  'remainder-only': 0.06,
  'preload-included': 0.06,
  'wrong-way': 0.06,
  'neighbouring-numeral': 0.06,
  'decimal-place': 0.06,
  'extra-turn': 0.05,
  'graduation-value': 0.05,
  arithmetic: 0.05,
  'up-and-down': 0.04,
  'another-lobe': 0.03,
  'digits-swapped': 0.02,
  'inch-millimetre': 0.02,
};

/** As often as in the trade, or each mistake alike: the second is the harder population. */
export type Population = 'trade' | 'alike';

export interface Count {
  attempts: number;
  /** Named, alone and rightly. */
  named: number;
  /** The truth is among what was said: named so, or as one of "either … or …". */
  among: number;
  /** Not named alone, but another mistake would have left the same sheet, and nothing was said that it rules out. */
  colliding: number;
}

export interface Tally extends Count {
  /** Sheets that another mistake would have left just so: these only a prior can name. */
  ambiguous: number;
  readonly byDial: Map<string, Count>;
  /** Truth, what was said, how often. */
  readonly matrix: Map<string, Map<string, number>>;
}

const count = (): Count => ({ attempts: 0, named: 0, among: 0, colliding: 0 });

/** So many simulated students: what they read, how their mistakes are drawn, and the seed of it all. */
export interface Students {
  readonly attempts: number;
  readonly population: Population;
  readonly seed: string;
  readonly work: Work;
}

/** One mistake each, a careful eye, whole graduations. */
export function oneMistake({ attempts, population, seed, work }: Students, filled: Filled): Tally {
  return tally(attempts, seed, filled, (chance) => drawOne(chance, filled, population, work));
}

/** Two mistakes at once on a full sheet. */
export function twoMistakes({ attempts, population, seed, work }: Students): Tally {
  return tally(attempts, seed, 'all', (chance) => drawTwo(chance, population, work));
}

function tally(
  attempts: number,
  seed: string,
  filled: Filled,
  draw: (chance: Chance) => Attempt | null,
): Tally {
  const chance = chanceFor(seed, 'misreaders');
  const result: Tally = { ...count(), ambiguous: 0, byDial: new Map(), matrix: new Map() };
  while (result.attempts < attempts) {
    const attempt = draw(chance);
    // A mistake that leaves the reading right within a graduation or two is none that anybody could see.
    if (attempt === null || Math.abs(liftOf(attempt) - attempt.on.high) <= 2) continue;
    const naming = say(attempt);
    const rivals = rivalsOf(attempt, filled);
    const isNamed = isRight(attempt.truth, naming);
    if (rivals.length > 0) result.ambiguous += 1;
    for (const into of [result, entry(result.byDial, attempt.on.job.name, count)]) {
      into.attempts += 1;
      if (isNamed) into.named += 1;
      else if (isExcused(attempt.truth, naming, rivals)) into.colliding += 1;
      if (attempt.truth.every((mistake) => naming?.mistakes.includes(mistake))) into.among += 1;
    }
    const row = entry(result.matrix, attempt.truth.join(' + '), () => new Map<string, number>());
    const said = naming === null ? 'nothing' : wordsOf(naming);
    row.set(said, (row.get(said) ?? 0) + 1);
  }
  return result;
}

function entry<T>(map: Map<string, T>, key: string, fresh: () => T): T {
  const value = map.get(key) ?? fresh();
  map.set(key, value);
  return value;
}

const liftOf = ({ written, on }: Attempt) => (written.lift ?? 0) / on.job.dial.graduation;

function say({ on, shown, written }: Attempt): Naming | null {
  return nameMistake(explainReading(on.job.dial, shown, written));
}

function wordsOf({ how, mistakes }: Naming): string {
  if (how === 'unexplained') return how;
  return mistakes.join(how === 'either' ? ' | ' : ' + ');
}

function isRight(truth: readonly Mistake[], naming: Naming | null): boolean {
  return (
    naming?.how === 'one' &&
    naming.mistakes.length === truth.length &&
    truth.every((mistake) => naming.mistakes.includes(mistake))
  );
}

/** Everything else that would have left this sheet: a mistake, or on two mistakes at once also another two. */
function rivalsOf(attempt: Attempt, filled: Filled): (readonly Mistake[])[] {
  const singles = colliding(attempt, filled).map((mistake) => [mistake]);
  return attempt.truth.length === 2 ? [...singles, ...collidingPairs(attempt)] : singles;
}

/**
 * Others collide with the truth, and what was said names none but the truth and those: nothing at all, one that collides, or either
 * of two such.
 */
function isExcused(
  truth: readonly Mistake[],
  naming: Naming | null,
  rivals: readonly (readonly Mistake[])[],
): boolean {
  if (rivals.length === 0 || naming === null) return false;
  const { how, mistakes } = naming;
  if (how === 'one') return rivals.some((rival) => isRight(rival, naming));
  return mistakes.every((mistake) => [truth, ...rivals].some((one) => one.join() === mistake));
}

/** Share of readings short of the high point that are named so though the log does not know of it. */
export function shortWithoutNote(attempts: number, filled: Filled, seed: string): number {
  const chance = chanceFor(seed, 'unnoted');
  const rows = MISREADINGS.filter(({ mistake }) => mistake === 'not-the-high-point');
  let named = 0;
  for (let n = 0; n < attempts; n += 1) {
    const on = drawMeasurement(chance, 'lobes');
    const doing = { ...chance.pick(rows.flatMap(({ forms }) => forms(on))), stillRising: false };
    if (isRight(['not-the-high-point'], say(makeAttempt(on, rows, [doing], carefulEye(chance), filled))))
      named += 1;
  }
  return named / attempts;
}

function drawOne(chance: Chance, filled: Filled, population: Population, work: Work): Attempt | null {
  const on = drawMeasurement(chance, work);
  const kind = drawKind(chance, on, population, (mistake) => filled === 'all' || mistake !== 'arithmetic');
  const rows = MISREADINGS.filter(({ mistake, forms }) => mistake === kind && forms(on).length > 0);
  if (rows.length === 0) return null;
  const row = chance.pick(rows);
  return makeAttempt(on, [row], [chance.pick(row.forms(on))], carefulEye(chance), filled);
}

function drawTwo(chance: Chance, population: Population, work: Work): Attempt | null {
  const on = drawMeasurement(chance, work);
  const draw = (): Misreading => {
    const kind = drawKind(chance, on, population, () => true);
    return chance.pick(MISREADINGS.filter(({ mistake }) => mistake === kind));
  };
  const [a, b] = [draw(), draw()];
  if (!combine(a, b)) return null;
  const [first, second] = [a.forms(on), b.forms(on)];
  if (first.length === 0 || second.length === 0) return null;
  const doings = [chance.pick(first), chance.pick(second)];
  // Each must show by itself: a mistake that changes nothing was not made.
  const alone = doings.map((doing) => makeAttempt(on, [a], [doing], Math.round, 'all'));
  if (alone.some((one) => Math.abs(one.clean.lift - on.high) <= 2)) return null;
  return makeAttempt(on, [a, b], doings, carefulEye(chance), 'all');
}

/** A pointer just past zero hides the turn it has finished, one just short of it looks as if it had. Common practice, no source. */
function timesLikelier(mistake: Mistake, { high, perTurn }: Measurement): number {
  const pointerShare = (high / perTurn) % 1;
  if (mistake === 'missed-turn' && pointerShare <= 0.1) return 2;
  return mistake === 'extra-turn' && pointerShare >= 0.9 ? 3 : 1;
}

function drawKind(
  chance: Chance,
  on: Measurement,
  population: Population,
  fits: (mistake: Mistake) => boolean,
): Mistake {
  const kinds = (Object.keys(OFTEN) as Mistake[]).filter(fits);
  if (population === 'alike') return chance.pick(kinds);
  const often = (kind: Mistake) => (OFTEN[kind] ?? 0) * timesLikelier(kind, on);
  let left = chance.uniform(0, 1) * kinds.reduce((sum, kind) => sum + often(kind), 0);
  for (const kind of kinds) {
    left -= often(kind);
    if (left < 0) return kind;
  }
  return 'missed-turn';
}

/** Share of readings by an eye that errs normally with this spread, in graduations, of which a mistake is named all the same. */
export function accused(students: Students, sd: number, filled: Filled): number {
  return shareNamed(students, filled, (high, chance) => Math.round(high + sd * gauss(chance)));
}

/** The same of readings that are right within one graduation. */
export function accusedThoughRight(students: Students, filled: Filled): number {
  return shareNamed(students, filled, (high, chance) =>
    chance.pick([Math.floor(high), Math.ceil(high), high + chance.uniform(-1, 1), high - 1, high + 1]),
  );
}

/** The same of readings that are wrong for no reason: anything from nothing to twice the reading, a full sheet adding up to it. */
export function namedForNoReason(students: Students, filled: Filled): number {
  return shareNamed(students, filled, (high, chance) => {
    for (;;) {
      const anything = Math.round(chance.uniform(0, 2 * high));
      if (Math.abs(anything - high) > 1) return anything;
    }
  });
}

function shareNamed(
  { attempts, seed, work }: Students,
  filled: Filled,
  read: (high: number, chance: Chance) => number,
): number {
  const chance = chanceFor(seed, 'readers');
  let named = 0;
  for (let n = 0; n < attempts; n += 1) {
    const on = drawMeasurement(chance, work);
    const naming = say(makeAttempt(on, [], [], (high) => read(high, chance), filled));
    if (naming !== null && naming.how !== 'unexplained') named += 1;
  }
  return named / attempts;
}

/** Uncut: the tails are what matters here. */
function gauss(chance: Chance): number {
  return Math.sqrt(-2 * Math.log(1 - chance.uniform(0, 1))) * Math.cos(2 * Math.PI * chance.uniform(0, 1));
}
