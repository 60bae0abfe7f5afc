import { priorsOn, type ReadingMistake } from './hypotheses.ts';
import {
  LIFT_ROWS,
  type LiftMade,
  type LiftRow,
  READING_ROWS,
  type ReadingRow,
  RIGHT_SUM,
} from './mistake-table.ts';
import { graduationsOf, type Scene, sightingsOf, type TurnsAndPointer } from './sighting.ts';

/** One way in which a sheet may have come about: what was taken for the reading, and what was made of it. */
export interface Explanation {
  /** One mistake, or two made at once. */
  readonly mistakes: readonly [ReadingMistake, ReadingMistake?];
  readonly prior: number;
  /** What would stand in the boxes. */
  readonly boxes: TurnsAndPointer;
  /** The lifts that may come of a reading, in graduations; null where it may be any, badly added up. */
  readonly lifts: ((reading: number) => readonly LiftMade[]) | null;
}

/** How seldom a second mistake comes with a first, given the prior of each alone. Common practice, no source. */
const SECOND = 0.3;

/** A reading as it was taken from the dial: with what mistakes, which show in which boxes, and what it then says. */
interface Taken {
  readonly mistakes: readonly ReadingMistake[];
  readonly of: readonly ReadingRow['of'][];
  readonly prior: number;
  readonly boxes: TurnsAndPointer;
}

/**
 * Every explanation with a definite result: each mistake alone, and, where the boxes are filled so that they can be told apart,
 * two that show in different places.
 */
export function explanationsOf(scene: Scene, boxesAreFilled: boolean, liftIsWritten: boolean): Explanation[] {
  const liftsMade = liftIsWritten ? waysOfMaking(scene, boxesAreFilled) : [];
  return readingsTaken(scene, boxesAreFilled).flatMap(({ mistakes, prior, boxes }): Explanation[] => {
    const [first, second] = mistakes;
    const withLift = (
      made: WayOfMaking,
      before: readonly [ReadingMistake] | readonly [],
      factor: number,
    ) => ({
      mistakes: [...before, made.mistake] as Explanation['mistakes'],
      prior: prior * factor * made.prior,
      boxes,
      lifts: made.lifts,
    });
    if (first === undefined) return liftsMade.map((made) => withLift(made, [], 1));
    if (second !== undefined) return [{ mistakes: [first, second], prior, boxes, lifts: RIGHT_SUM }];
    const others = boxesAreFilled ? liftsMade.filter((made) => made.mistake !== first) : [];
    return [
      { mistakes: [first], prior, boxes, lifts: RIGHT_SUM },
      ...others.map((made) => withLift(made, [first], SECOND)),
    ];
  });
}

/** Readings as they may have been taken: rightly (no mistake), with one, or with two that show in different boxes. */
function readingsTaken(scene: Scene, boxesAreFilled: boolean): Taken[] {
  const { perTurn, high, notedShort } = scene;
  const priors = priorsOn(scene.dial.face);
  const from = (graduations: number, mistakes: readonly ReadingMistake[], prior: number): Taken[] => {
    const sightings = sightingsOf(graduations, perTurn);
    return sightings.map((boxes) => ({ mistakes, of: [], prior: prior / sightings.length, boxes }));
  };
  const short =
    notedShort === null ? [] : from(notedShort, ['not-the-high-point'], priors['not-the-high-point']);
  // Where the log says that it was written short of the high point, it seldom came from the high point after all.
  const right = from(high, [], notedShort === null ? 1 : NOTE_MISSES);
  const singles = right.flatMap((seen) => mistaken(scene, seen, 1));
  const bases = [...right, ...short, ...singles];
  if (!boxesAreFilled) return bases;
  const turnsFirst = singles.filter(({ of }) => of[0] === 'turns');
  return [
    ...bases,
    ...turnsFirst.flatMap((seen) => mistaken(scene, seen, SECOND).filter(({ of }) => of[1] === 'pointer')),
    ...short.flatMap((seen) => mistaken(scene, seen, SECOND).filter(({ of }) => of[0] !== 'reading')),
  ];
}

/** How often a reading noted short of the high point is of the high point all the same. Common practice, no source. */
const NOTE_MISSES = 0.1;

function mistaken(scene: Scene, seen: Taken, factor: number): Taken[] {
  const priors = priorsOn(scene.dial.face);
  const pointerShare = seen.boxes.pointer / scene.perTurn;
  return READING_ROWS.flatMap((row): Taken[] => {
    const results = row.makes(seen.boxes, scene);
    const prior =
      seen.prior * factor * priors[row.mistake] * (row.share ?? 1) * (row.favour?.(pointerShare) ?? 1);
    return results.map((boxes) => ({
      mistakes: [...seen.mistakes, row.mistake],
      of: [...seen.of, row.of],
      prior: prior / results.length,
      boxes,
    }));
  });
}

interface WayOfMaking {
  readonly mistake: ReadingMistake;
  readonly prior: number;
  readonly lifts: Explanation['lifts'];
}

/** The ways of making a wrong lift out of right boxes; a bad sum can only be told where the boxes are filled. */
function waysOfMaking(scene: Scene, boxesAreFilled: boolean): WayOfMaking[] {
  const priors = priorsOn(scene.dial.face);
  const definite = LIFT_ROWS.map((row: LiftRow) => ({
    mistake: row.mistake,
    prior: priors[row.mistake] * (row.share ?? 1),
    lifts: (reading: number) => row.makes(reading, scene),
  }));
  return boxesAreFilled
    ? [...definite, { mistake: 'arithmetic', prior: priors.arithmetic, lifts: null }]
    : definite;
}

/** The lift an explanation gives where nothing else is known, in graduations; null where it gives no definite one. */
export function predictedLift(
  { boxes, lifts }: Explanation,
  perTurn: number,
  written: number,
): number | null {
  const made = lifts?.(graduationsOf(boxes, perTurn)) ?? [];
  const nearest = [...made].sort((a, b) => Math.abs(a.lift - written) - Math.abs(b.lift - written))[0];
  return nearest?.lift ?? null;
}
