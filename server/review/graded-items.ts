import { hasDegrees, plotSvg } from '../../views/drawing/plot.ts';
import type { AnyBrief, Dial, Grade, ItemOutcome, Remark, TraceRun } from '../engine/index.ts';
import { boxWords, CRITERION_WORDS, FOLLOW_UP_WORDS, type Words, wordsFor } from '../web/words/index.ts';
import { isGeneral } from './graded-lobes.ts';
import { itemRowWords, itemValueWords, itemVerdictWords } from './item-words.ts';
import { listed } from './log-lines.ts';
import { capital, type MomentAt, type PlotView, type RemarkView } from './views.ts';

/** One item of a graded attempt of a kind other than cam lift. */
export interface GradedItem {
  readonly id: string;
  readonly title: string;
  readonly lost: number;
  readonly rows: readonly {
    readonly label: string;
    readonly written: string;
    readonly shown: string;
    readonly truth: string;
  }[];
  /** Null where nothing is judged. */
  readonly verdict: { readonly written: string; readonly truth: string; readonly next: string } | null;
  readonly mistakes: readonly RemarkView[];
  readonly remarks: readonly RemarkView[];
  readonly plots: readonly PlotView[];
  /** Set-ups with too little done to draw. */
  readonly notDrawn: number;
}

/** What the items of a kind are told with. */
export interface ItemTelling {
  readonly brief: AnyBrief;
  readonly grade: Omit<Grade, 'trace'>;
  readonly trace: readonly TraceRun[];
  readonly momentAt: MomentAt;
  readonly turned: string | null;
  titleOf(item: number): string;
  /** Where in the item a remark is about, or nothing. */
  placeOf(remark: Remark): string;
  dialOf(item: number): Dial;
  remarkWords(remark: Remark): Words;
  mistakeWords(mistake: Grade['mistakes'][number]): Words;
  /** Is this stretch worth a plot of its own? */
  draws(run: TraceRun): boolean;
  runTitle(run: TraceRun): string;
}

/** Less than this turned in a set-up shows nothing worth drawing, nor do fewer points where nothing turns. */
const LEAST_DRAWN_DEG = 20;
const LEAST_DRAWN_POINTS = 4;

/** Blank boxes named one by one up to here; more of them are one remark. */
const BLANKS_APART = 2;
const ABOUT_HIGH = new Set(['result-off', 'drill-off', 'result-never-shown']);

export function gradedItems(telling: ItemTelling): GradedItem[] {
  const items = telling.grade.items ?? [];
  return items.map((item) => gradedItem(telling, item, items.length === 1));
}

function gradedItem(telling: ItemTelling, outcome: ItemOutcome, alone: boolean): GradedItem {
  const { brief, grade, trace, momentAt } = telling;
  const { item } = outcome;
  const mine = ({ position }: { readonly position: number | null }) =>
    position !== null && (alone || position === item);
  const own = grade.remarks.flatMap((remark, index) =>
    mine(remark) && !isGeneral(remark) ? [{ remark, index }] : [],
  );
  const drawn = trace.filter(mine);
  const worth = drawn.filter((run) => telling.draws(run) && isWorthDrawing(run));
  return {
    id: `item-${item}`,
    title: telling.titleOf(item),
    lost: Math.round(own.reduce((sum, { remark }) => sum + remark.pointsLost, 0) * 10) / 10,
    rows: rowsOf(telling, outcome),
    verdict:
      outcome.trueVerdict === null
        ? null
        : {
            written:
              outcome.writtenVerdict === null
                ? 'blank'
                : itemVerdictWords(brief.kind, outcome.writtenVerdict),
            truth: itemVerdictWords(brief.kind, outcome.trueVerdict),
            next: outcome.writtenNext === null ? 'blank' : wordsFor(FOLLOW_UP_WORDS, outcome.writtenNext),
          },
    mistakes: grade.mistakes.flatMap((mistake, index) =>
      mine(mistake)
        ? [
            {
              ref: `mistake.${index}.${mistake.mistakes[0] ?? mistake.how}`,
              ...telling.mistakeWords(mistake),
              place: '',
              criterion: '',
              cost: 0,
              moment: momentAt(mistake.at, 'highest'),
            },
          ]
        : [],
    ),
    remarks: blanksTogether(own, telling),
    plots: worth.map((run, index) => plotOf(telling, run, index, worth.length)),
    notDrawn: drawn.filter(telling.draws).length - worth.length,
  };
}

/** One remark of a list, in words. */
export function remarkView(telling: ItemTelling, remark: Remark, index: number): RemarkView {
  return {
    ref: `remark.${index}.${remark.code}`,
    ...telling.remarkWords(remark),
    place: telling.placeOf(remark),
    criterion: remark.criterion === null ? '' : CRITERION_WORDS[remark.criterion],
    cost: remark.pointsLost,
    moment: telling.momentAt(remark.at, ABOUT_HIGH.has(remark.code) ? 'highest' : 'last'),
  };
}

/** An empty sheet would say the same sixty times: many blank boxes are one remark. */
function blanksTogether(
  own: readonly { readonly remark: Remark; readonly index: number }[],
  telling: ItemTelling,
): RemarkView[] {
  const blank = own.filter(({ remark }) => remark.code === 'result-not-written');
  if (blank.length <= BLANKS_APART) return own.map(({ remark, index }) => remarkView(telling, remark, index));
  const [first] = blank;
  const dial = telling.dialOf(first?.remark.position ?? 1);
  const names = blank.map(({ remark }) => itemRowWords(String(remark.values.box ?? ''), dial).toLowerCase());
  const cost = blank.reduce((sum, { remark }) => sum + remark.pointsLost, 0);
  return own.flatMap(({ remark, index }): RemarkView[] => {
    if (remark.code !== 'result-not-written') return [remarkView(telling, remark, index)];
    if (index !== first?.index) return [];
    const named =
      names.length <= 8 ? `These boxes are blank: ${listed(names)}.` : `${names.length} boxes are blank.`;
    return [{ ...remarkView(telling, remark, index), seen: named, cost: Math.round(cost * 10) / 10 }];
  });
}

/** Every box that was written, read or is so, in the order of the sheet. */
function rowsOf({ brief, dialOf }: ItemTelling, outcome: ItemOutcome): GradedItem['rows'] {
  const dial = dialOf(outcome.item);
  const { written, shown, item } = outcome;
  // In fault finding the truth is the lift itself; it is what the reading should be once the fault is set right.
  const truth = brief.kind === 'fault-finding' ? { 'true-high': outcome.truth.lift ?? null } : outcome.truth;
  const names = [...new Set([...Object.keys(written), ...Object.keys(shown), ...Object.keys(truth)])];
  return names.map((name) => {
    const words = (value: number | null | undefined, who: 'written' | 'worked-out') =>
      itemValueWords(brief, name, value, dial, who, item);
    const isBox = Object.hasOwn(written, name);
    return {
      label: itemRowWords(name, dial),
      written: isBox ? words(written[name], 'written') : '',
      shown: Object.hasOwn(shown, name) ? words(shown[name], 'worked-out') || 'nothing measured' : '',
      truth: words((truth as Readonly<Record<string, number | null>>)[name], 'worked-out'),
    };
  });
}

function isWorthDrawing(run: TraceRun): boolean {
  if (!hasDegrees(run)) return run.travel.length >= LEAST_DRAWN_POINTS;
  const least = run.crankDeg.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  return run.crankDeg.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY) - least >= LEAST_DRAWN_DEG;
}

function plotOf(telling: ItemTelling, run: TraceRun, index: number, of: number): PlotView {
  const title = `${capital(telling.runTitle(run))}${of > 1 ? `, set-up ${index + 1} of ${of}` : ''}: travel of the gauge`;
  const draw = (size: 'narrow' | 'wide') =>
    plotSvg(run, telling.dialOf(run.position), {
      id: `plot-${run.position}-${run.setUp}-${size}`,
      title,
      size,
      ...(telling.turned === null ? {} : { turned: telling.turned }),
    });
  return { title, narrow: draw('narrow'), wide: draw('wide') };
}

/** `highest reading and total indicator reading, rim`: boxes of the sheet written one after another. */
export function wroteWords(boxes: readonly string[], place: string): string {
  const names = listed(boxes.map((box) => boxWords(box)));
  return `Wrote ${names}${place === '' ? '' : `, ${place.charAt(0).toLowerCase()}${place.slice(1)}`}.`;
}
