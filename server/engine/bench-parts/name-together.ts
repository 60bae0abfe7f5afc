import type { NamedMistake } from '../grading/types.ts';

type Naming = Pick<NamedMistake, 'how' | 'mistakes'>;

/** One way to misread: what it makes of a reading, and its name. Two ways may share a name. */
export interface Misreading {
  readonly mistake: string;
  /** Written = factor × what the gauge showed. */
  readonly factor: number;
}

/**
 * The misreadings of a movement by a gauge on a stand: half or twice it (the value of a graduation or a turn), the decimal point one
 * place out either way, inches for millimetres either way. Common practice, no source.
 */
export const USUAL_MISREADINGS: readonly Misreading[] = [
  { mistake: 'halved', factor: 1 / 2 },
  { mistake: 'doubled', factor: 2 },
  { mistake: 'decimal-place', factor: 10 },
  { mistake: 'decimal-place', factor: 1 / 10 },
  { mistake: 'inch-millimetre', factor: 25.4 },
  { mistake: 'inch-millimetre', factor: 1 / 25.4 },
];

/** Zero set on the far side, or the pointer read against the way it went. */
export const SIGN_TURNED: Misreading = { mistake: 'sign-turned', factor: -1 };

/** A box that was read off the gauge. In graduations. */
export interface ReadBox {
  readonly written: number;
  readonly shown: number;
}

/** Spread of a careful eye and of a careless one, in graduations; a misread number is rounded after it was made. Common practice, no source. */
const CAREFUL_SD = 0.55;
const CARELESS_SD = 1.5;
/** How likely it is beforehand that a sheet that is off was written so. Common practice, no source. */
const PRIOR = { careless: 0.8, noReason: 0.04, allAlong: 0.04, once: 0.04 };
/** A length that was written for no reason may be anything up to so many turns. */
const ANY_TURNS = 5;

const ALONE = 0.8;
const TIMES_THE_NEXT = 4;
const TOGETHER = 0.85;

/**
 * Explains the boxes of one item together: whoever takes a graduation for twice its value does so all along, a slip of the pen happens once.
 * Each box gets the naming that belongs to it, null where it is right within a graduation. Weighed by Bayes' rule against an eye
 * that is careless and against no reason at all; thresholds as in `nameMistake`.
 */
export function nameTogether(
  boxes: readonly ReadBox[],
  misreadings: readonly Misreading[],
  perTurn: number,
): (Naming | null)[] {
  const isOff = boxes.map(({ written, shown }) => Math.abs(written - shown) > 1 + 1e-6);
  if (!isOff.includes(true)) return boxes.map(() => null);
  const careful = boxes.map((box) => logNormal(box.written - box.shown, CAREFUL_SD));
  const careless = sum(boxes.map((box) => logNormal(box.written - box.shown, CARELESS_SD)));
  const any = -Math.log(ANY_TURNS * perTurn);
  const rightBut = (index: number, instead: number) => sum(careful) - (careful[index] ?? 0) + instead;
  const weighed: Weighed[] = [
    { at: null, mistake: null, log: Math.log(PRIOR.careless) + careless },
    { at: null, mistake: null, log: Math.log(PRIOR.noReason) + any * boxes.length },
    ...boxes.map((_, at) => ({
      at,
      mistake: null,
      log: Math.log(PRIOR.noReason / boxes.length) + rightBut(at, any),
    })),
  ];
  for (const { mistake, factor } of misreadings) {
    const made = boxes.map((box) => logMade(box, factor));
    weighed.push({ at: null, mistake, log: Math.log(PRIOR.allAlong) + sum(made) });
    if (boxes.length === 1) continue;
    boxes.forEach((_, at) => {
      weighed.push({ at, mistake, log: Math.log(PRIOR.once / boxes.length) + rightBut(at, made[at] ?? any) });
    });
  }
  const naming = decide(weighed, boxes.length);
  return isOff.map((off, index) => (off ? naming(index) : null));
}

interface Weighed {
  /** The one box it happened to; null where it is so all along. */
  readonly at: number | null;
  /** Null where it has no name. */
  readonly mistake: string | null;
  readonly log: number;
}

/** What may be said of each box: explanations of the same name are added up, those of another box alone say nothing of this one. */
function decide(weighed: readonly Weighed[], count: number): (index: number) => Naming {
  const most = Math.max(...weighed.map(({ log }) => log));
  const total = sum(weighed.map(({ log }) => Math.exp(log - most)));
  const unexplained: Naming = { how: 'unexplained', mistakes: [] };
  return (index) => {
    const shares = new Map<string | null, number>();
    for (const { at, mistake, log } of weighed) {
      const name = at === null || at === index || count === 1 ? mistake : null;
      shares.set(name, (shares.get(name) ?? 0) + Math.exp(log - most) / total);
    }
    const named = [...shares].sort((a, b) => b[1] - a[1]);
    const [[first, share] = [null, 0], [second, next] = [null, 0]] = named;
    if (first === null) return unexplained;
    if (share >= ALONE && share >= TIMES_THE_NEXT * next) return { how: 'one', mistakes: [first] };
    return second !== null && share + next >= TOGETHER
      ? { how: 'either', mistakes: [first, second] }
      : unexplained;
  };
}

/** What multiplies a reading multiplies also what the eye was off by; what was made of it is rounded once more. */
function logMade({ written, shown }: ReadBox, factor: number): number {
  const sd = Math.max(CAREFUL_SD / 2, CAREFUL_SD * Math.abs(factor));
  return logNormal(written - factor * shown, sd);
}

function logNormal(off: number, sd: number): number {
  return -0.5 * (off / sd) ** 2 - Math.log(sd * Math.sqrt(2 * Math.PI));
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
