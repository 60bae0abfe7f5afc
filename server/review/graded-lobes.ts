import { limitBarSvg } from '../../views/drawing/index.ts';
import { type CleanLine, plotSvg } from '../../views/drawing/plot.ts';
import {
  type CamLiftBrief,
  type CamLiftSheet,
  convertLength,
  type Grade,
  judge,
  type LobeOutcome,
  type NoteBox,
  type Remark,
  type Specification,
  type TraceRun,
  type WrittenReading,
} from '../engine/index.ts';
import {
  type About,
  BOX_WORDS,
  CONDITION_WORDS,
  CRITERION_WORDS,
  decimalsOf,
  FOLLOW_UP_WORDS,
  fineLengthWords,
  lengthWords,
  mistakeWords,
  placeWords,
  ROLLER_VERDICT_WORDS,
  ROLLER_WORDS,
  remarkWords,
  TAPPET_WORDS,
  VERDICT_WORDS,
  wordsFor,
} from '../web/words/index.ts';
import { capital, type MomentAt, type PlotView, type RemarkView } from './views.ts';

/** What is told of an engine once it has been graded: its specification, looked up or not. */
export type GradedPlate = CamLiftBrief & { readonly specification: Specification };

/** One lobe of a graded attempt: what was written, what the gauge showed, what was so, and what there is to say. */
export interface GradedLobe {
  readonly position: number;
  readonly writtenLift: string;
  readonly shown: readonly string[];
  readonly trueLift: string;
  readonly condition: string;
  readonly tappet: string;
  readonly writtenBar: string | null;
  readonly trueBar: string;
  readonly writtenVerdict: string;
  readonly writtenNext: string;
  /** The roller and what was written of it; null where the sheet has no line for it. */
  readonly roller: { readonly state: string; readonly written: string } | null;
  /** The two readings as written, box by box. */
  readonly boxes: readonly { readonly label: string; readonly first: string; readonly second: string }[];
  readonly mistakes: readonly RemarkView[];
  readonly remarks: readonly RemarkView[];
  readonly lost: number;
  readonly plots: readonly PlotView[];
  /** Set-ups that were barred too little to draw. */
  readonly notDrawn: number;
}

interface Parts {
  readonly plate: GradedPlate;
  readonly grade: Omit<Grade, 'trace'>;
  readonly sheet: CamLiftSheet;
  readonly trace: readonly TraceRun[];
  readonly momentAt: MomentAt;
  aboutLobe(position: number): About;
  cleanLine(run: TraceRun): CleanLine | null;
}

/** Remarks about the whole run, whichever lobe they came up on. */
export function isGeneral({ position, code }: Remark): boolean {
  return position === null || code === 'let-go-at-compression';
}

/** Less than this barred in a set-up shows nothing worth drawing. */
const LEAST_DRAWN_DEG = 20;

const BOXES: readonly NoteBox[] = ['counterBefore', 'counterHigh', 'turns', 'pointer', 'lift', 'returned'];

/** Remarks about a reading point to its highest place; the others to the end of what was done. */
const ABOUT_HIGH = new Set(['reading-off', 'nothing-measured']);

export function gradedLobes(parts: Parts): GradedLobe[] {
  return parts.grade.lobes.map((lobe) => gradedLobe(parts, lobe));
}

function gradedLobe(parts: Parts, lobe: LobeOutcome): GradedLobe {
  const { plate, grade, momentAt } = parts;
  const { position } = lobe;
  const about = parts.aboutLobe(position);
  const own = grade.remarks.flatMap((remark, index) =>
    remark.position === position && !isGeneral(remark) ? [{ remark, index }] : [],
  );
  const placeIn = (reading: number | null) =>
    reading === null ? '' : (placeWords({ position, reading }).split(', ')[1] ?? '');
  const remarks = own.map(
    ({ remark, index }): RemarkView => ({
      ref: `remark.${index}.${remark.code}`,
      ...remarkWords(remark, about),
      place: capital(placeIn(remark.reading)),
      criterion: remark.criterion === null ? '' : CRITERION_WORDS[remark.criterion],
      cost: remark.pointsLost,
      moment: momentAt(remark.at, ABOUT_HIGH.has(remark.code) ? 'highest' : 'last'),
    }),
  );
  const mistakes = grade.mistakes
    .map((mistake, index) => ({ mistake, index }))
    .filter(({ mistake }) => mistake.position === position)
    .map(
      ({ mistake, index }): RemarkView => ({
        ref: `mistake.${index}.${mistake.mistakes[0] ?? mistake.how}`,
        ...mistakeWords(mistake, about),
        place: mistake.mistakes.includes('nothing-measured')
          ? ''
          : capital(placeIn(mistake.reading) || 'lift line'),
        criterion: '',
        cost: 0,
        moment: momentAt(mistake.at, mistake.mistakes.includes('not-the-high-point') ? 'last' : 'highest'),
      }),
    );
  const drawn = parts.trace.filter((run) => run.position === position);
  const worth = drawn.filter(isWorthDrawing);
  return {
    position,
    writtenLift: lobe.writtenLift === null ? 'blank' : lengthWords(lobe.writtenLift, plate.dial),
    shown: lobe.shown.map((shown) => (shown === null ? 'nothing measured' : lengthWords(shown, plate.dial))),
    trueLift: fineLengthWords(lobe.trueLift, plate.dial),
    roller:
      lobe.roller === undefined
        ? null
        : {
            state: wordsFor(ROLLER_WORDS, lobe.roller),
            written: lobe.writtenRoller ? wordsFor(ROLLER_VERDICT_WORDS, lobe.writtenRoller) : 'blank',
          },
    condition: wordsFor(CONDITION_WORDS, lobe.condition),
    tappet: wordsFor(TAPPET_WORDS, lobe.tappet),
    writtenBar:
      lobe.writtenLift === null
        ? null
        : bar(plate, lobe.writtenLift, `bar-written-${position}`, 'Lift as written'),
    trueBar: bar(plate, lobe.trueLift, `bar-true-${position}`, 'True lift'),
    writtenVerdict: lobe.writtenVerdict === null ? 'blank' : wordsFor(VERDICT_WORDS, lobe.writtenVerdict),
    writtenNext: lobe.writtenNext === null ? 'blank' : wordsFor(FOLLOW_UP_WORDS, lobe.writtenNext),
    boxes: boxesOf(plate, about),
    mistakes,
    remarks,
    lost: Math.round(own.reduce((sum, { remark }) => sum + remark.pointsLost, 0) * 10) / 10,
    plots: worth.map((run, index) => plot(parts, run, index, worth.length)),
    notDrawn: drawn.length - worth.length,
  };
}

function bar(plate: GradedPlate, lift: number, id: string, title: string): string {
  const { specification, dial } = plate;
  const value = convertLength(lift, dial.unit, specification.unit);
  const decimals =
    (specification.unit === 'in' ? 3 : 2) +
    (Number.isInteger(Number((lift / dial.graduation).toFixed(6))) ? 0 : 1);
  const { lower, upper, unit } = specification;
  return limitBarSvg(
    { lower, upper, unit, value, word: judge(value, null, specification).verdict, decimals },
    { id, title },
  );
}

function boxesOf({ dial }: CamLiftBrief, { written }: About): GradedLobe['boxes'] {
  const write = (reading: WrittenReading | undefined, box: NoteBox): string => {
    const value = reading?.[box] ?? null;
    if (value === null) return 'blank';
    if (box !== 'lift' && box !== 'returned') return String(Math.round(value * 100) / 100);
    const decimals = Math.max(decimalsOf(dial), String(Number(value.toFixed(6))).split('.')[1]?.length ?? 0);
    return `${value.toFixed(decimals).replace('-', '−')} ${dial.unit}`;
  };
  return BOXES.map((box) => ({
    label: capital(BOX_WORDS[box]),
    first: write(written?.readings[0], box),
    second: write(written?.readings[1], box),
  }));
}

function isWorthDrawing(run: TraceRun): boolean {
  return (
    Math.max(...run.crankDeg, Number.NEGATIVE_INFINITY) -
      Math.min(...run.crankDeg, Number.POSITIVE_INFINITY) >=
    LEAST_DRAWN_DEG
  );
}

function plot({ plate, cleanLine }: Parts, run: TraceRun, index: number, of: number): PlotView {
  const title = `Position ${run.position}${of > 1 ? `, set-up ${index + 1} of ${of}` : ''}: travel of the gauge while the engine was barred`;
  const clean = cleanLine(run);
  const draw = (size: 'narrow' | 'wide') =>
    plotSvg(run, plate.dial, {
      id: `plot-${run.position}-${run.setUp}-${size}`,
      title,
      size,
      ...(clean === null ? {} : { clean }),
    });
  return { title, narrow: draw('narrow'), wide: draw('wide') };
}
