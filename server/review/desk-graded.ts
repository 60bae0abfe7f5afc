import {
  type AnyAction,
  type AnyBench,
  type AnyBrief,
  type AnyView,
  brief as briefOf,
  DIALS,
  type Dial,
  type Grade,
  isKind,
  type Remark,
  type Stop,
} from '../engine/index.ts';
import { type Desk, deskOf } from '../kinds/index.ts';
import {
  type About,
  BOX_WORDS,
  drillMistakeWords,
  drillStopWords,
  gaugedMistakeWords,
  gaugedRemarkWords,
  gaugedStopWords,
  isGaugedRemarkCode,
  placed,
  remarkWords,
  stopWords,
  type Words,
  wordsFor,
} from '../web/words/index.ts';
import { type GradedItem, gradedItems, type ItemTelling, remarkView, wroteWords } from './graded-items.ts';
import type { GradedKind, GradedParts, GradedWork } from './graded-kind.ts';
import { isGeneral } from './graded-lobes.ts';

type AnyKind = AnyBench['kind'];
/** A desk whose kind has been forgotten: whatever goes in came from the same kind's bench. */
interface AnyDesk {
  readonly title: string;
  plate(brief: AnyBrief): string;
  dial(brief: AnyBrief, view: AnyView): Dial | null;
  specification(brief: AnyBrief): readonly string[];
  said(one: { readonly code: string }): string;
  did(action: AnyAction, brief: AnyBrief): string;
  itemName(brief: AnyBrief, item: number): string;
}

/** What is turned at the bench, as the axis of a plot says it. */
const TURNED: Readonly<Partial<Record<AnyKind, string>>> = {
  'run-out': 'work turned',
  'valve-lift': 'crank barred',
  'lift-curve': 'crank barred',
  'fault-finding': 'crank barred',
};

/** Stands where words ask for a dial and the kind has none, or none any more: no word of such a remark is about a dial. */
const NO_DIAL = DIALS['inch-0.001-1'];

/** The graded side of every kind but cam lift, by what all of their grades have. */
export function deskGraded(bench: AnyBench): GradedKind {
  const brief = briefOf(bench);
  const desk = deskOf(bench.kind) as Desk<AnyKind> as unknown as AnyDesk;
  const dialOfItem = (item: number) => dialIn(brief, item) ?? NO_DIAL;
  const kind: GradedKind = {
    plate: desk.plate(brief),
    specification: desk.specification(brief),
    turned: TURNED[bench.kind] ?? null,
    logWords: {
      did: (action) => desk.did(action, brief),
      said: (one) => desk.said(one),
      wrote: (notes) => wrote(notes, (item) => desk.itemName(brief, item)),
    },
    dialOf: (view) => desk.dial(brief, view),
    dialOfRun: ({ position }) => dialOfItem(position),
    runTitle: ({ position }) => desk.itemName(brief, position),
    cleanLine: () => null,
    tell: (work) => tell(bench, brief, desk, kind, work),
  };
  return kind;
}

function dialIn(brief: AnyBrief, item: number): Dial | null {
  if (isKind(brief, 'dial-reading')) return brief.drills.find(({ drill }) => drill === item)?.dial ?? null;
  return 'dial' in brief ? brief.dial : null;
}

function tell(
  bench: AnyBench,
  brief: AnyBrief,
  desk: AnyDesk,
  kind: GradedKind,
  { grade, trace, momentAt }: GradedWork,
): GradedParts {
  const dialOf = (item: number) => dialIn(brief, item) ?? NO_DIAL;
  // Backlash is one item measured at several teeth: the teeth have names, the item is the job's.
  const titleOf = (item: number) => (brief.kind === 'backlash' ? desk.title : desk.itemName(brief, item));
  const telling: ItemTelling = {
    brief,
    grade,
    trace,
    momentAt,
    turned: kind.turned,
    titleOf,
    placeOf: (remark) => (isOfATooth(brief, remark) ? desk.itemName(brief, remark.position ?? 1) : ''),
    dialOf,
    remarkWords: (remark) => wordsOfRemark(bench, remark, dialOf(remark.position ?? 1)),
    mistakeWords: (mistake) =>
      brief.kind === 'dial-reading' ? drillMistakeWords(mistake) : gaugedMistakeWords(mistake),
    // The ramp of a drill says nothing that its replay does not say better.
    draws: () => brief.kind !== 'dial-reading',
    runTitle: kind.runTitle,
  };
  const items: GradedItem[] = gradedItems(telling);
  return {
    stops: grade.stops.map((stop, index) => {
      const words = wordsOfStop(bench, stop, dialOf(stop.position));
      return {
        ref: `stop.${index}.${stop.code}`,
        seen: items.length > 1 ? placed(titleOf(stop.position), words.seen) : words.seen,
        why: words.why,
        moment: momentAt(stop.at, 'highest'),
      };
    }),
    general: grade.remarks.flatMap((remark, index) =>
      isGeneral(remark) ? [remarkView(telling, remark, index)] : [],
    ),
    lobes: [],
    items,
  };
}

/** In a remark on backlash the position is a tooth where it is about one set-up, else the whole job. */
function isOfATooth({ kind }: AnyBrief, { criterion, code }: Remark): boolean {
  if (kind !== 'backlash') return false;
  return criterion === 'setUp' || code === 'not-rocked-fully' || code === 'zero-not-seen-again';
}

/** Fault finding is done at a lobe, so that its set-up is remarked on as cam lift's is. */
function aboutLobe(bench: AnyBench): About | null {
  if (!isKind(bench, 'fault-finding')) return null;
  const { dial, specification } = bench.engine;
  return { dial, specification, lobe: null, written: null };
}

function wordsOfRemark(bench: AnyBench, remark: Grade['remarks'][number], dial: Dial): Words {
  const about = isGaugedRemarkCode(remark.code) ? null : aboutLobe(bench);
  return about === null ? gaugedRemarkWords(remark, dial) : remarkWords(remark, about);
}

function wordsOfStop(bench: AnyBench, stop: Stop, dial: Dial): Words {
  if (bench.kind === 'dial-reading') return drillStopWords(stop, dial);
  const about = stop.code === 'bad-part-passed' ? null : aboutLobe(bench);
  return about === null ? gaugedStopWords(stop, dial) : stopWords(stop, about);
}

function wrote(notes: readonly AnyAction[], itemName: (item: number) => string): string {
  const boxes = notes.flatMap((note) => (note.type === 'note' ? [note.box] : []));
  const [first] = notes;
  if (first?.type !== 'note') return '';
  if ('item' in first) return wroteWords(boxes, itemName(first.item));
  return wroteWords(
    boxes.map((box) => wordsFor(BOX_WORDS, box)),
    `Reading ${first.reading}, position ${first.position}`,
  );
}
