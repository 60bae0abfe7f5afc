import { crankSvg, effortSvg } from '../../views/drawing/index.ts';
import { sceneOf } from '../../views/scenes/index.ts';
import { type AnyAction, type AnyBrief, brief as briefOf, type KindName, lookAt } from '../engine/index.ts';
import {
  type Box,
  type BoxSet,
  type ControlSet,
  deskOf,
  type Fact,
  gaugeFacts,
  type SheetPart,
  type Typed,
} from '../kinds/index.ts';
import type { Problems } from '../web/forms.ts';
import type { Folded } from './folded.ts';
import { dialOf, standOf } from './perceived.ts';
import type { OwnAttempt } from './queries.ts';
import { hasSection, sectionSvg } from './section-view.ts';

/** A box of the lab sheet as views/parts/field.eta draws it. */
export interface BoxView {
  readonly name: string;
  readonly label: string;
  readonly value: string;
  readonly problem: string | undefined;
  readonly unit?: string;
  readonly hint: string | undefined;
  readonly type?: 'select';
  readonly options?: readonly { readonly value: string; readonly text: string }[];
  readonly attrs?: Readonly<Record<string, string>>;
}

export interface PartView {
  readonly id: string;
  readonly title: string;
  readonly short: string;
  readonly sets: readonly {
    readonly legend: string | null;
    readonly folded: string | undefined;
    readonly open: boolean;
    readonly table: BoxSet<unknown>['table'];
    readonly boxes: readonly BoxView[];
  }[];
}

/** What the bench page is drawn from: only what a person standing there would see, and what they have typed. */
export interface BenchPage {
  readonly title: string;
  readonly wide: true;
  readonly scripts: readonly string[];
  readonly attempt: Pick<
    OwnAttempt,
    'id' | 'try_number' | 'tries' | 'way' | 'itemTitle' | 'sheetTitle' | 'sectionName'
  >;
  readonly plate: string;
  readonly next: number;
  readonly stand: ReturnType<typeof standOf>;
  readonly said: string;
  readonly controls: readonly ControlSet<AnyAction>[];
  readonly parts: readonly PartView[];
  readonly problems: Problems;
  readonly specification: readonly string[];
  readonly facts: readonly Fact[];
  readonly orderOfWork: readonly string[];
  readonly caution: string;
  readonly certificate: Certificate | null;
  readonly dialSvg: string | null;
  /** Null where the kind has no drawing; empty while there is nothing to see of it yet. */
  readonly sceneSvg: string | null;
  readonly sceneTitle: string;
  readonly hasSection: boolean;
  readonly sectionSvg: string | null;
  readonly crankSvg: string | null;
  readonly effortSvg: string | null;
  /** Brief and view for the page's script, as JSON that may stand in a script element. */
  readonly json: string;
}

type Certificate = NonNullable<Extract<AnyBrief, { kind: 'cam-lift' }>['certificate']>;

/** Everything the bench page shows. */
export function benchView(attempt: OwnAttempt, folded: Folded, typed: Typed, problems: Problems): BenchPage {
  const { next } = folded;
  const brief = briefOf(folded.bench);
  const view = lookAt(folded.bench, folded.state);
  const desk = deskOf<KindName>(brief.kind);
  const stand = standOf(brief, view);
  const plate = desk.plate(brief);
  const { sample } = stand;
  const sceneTitle = `${desk.title}: the work`;
  const isBarred = sample?.deg != null && sample.effort !== null;
  return {
    title: plate,
    wide: true,
    scripts: ['practice.js'],
    attempt,
    plate,
    next,
    stand,
    said: next === 0 ? desk.begin(brief) : '',
    controls: desk.controls(brief, view),
    parts: partViews(desk.form(brief), typed, problems),
    problems,
    specification: desk.specification(brief),
    facts: [
      // Where each drill brings a dial of its own, the sheet names it: what is written here stays.
      ...('drills' in brief ? [] : gaugeFacts(desk.dial(brief, view))),
      ...desk.facts(brief),
      { term: 'Section', text: attempt.sectionName },
    ],
    orderOfWork: desk.orderOfWork(brief),
    caution: desk.caution,
    certificate: ('certificate' in brief ? brief.certificate : null) ?? null,
    dialSvg: dialOf(brief, view),
    sceneSvg: sceneOf(brief.kind)?.draw(brief, view, { id: 'scene', title: sceneTitle }) ?? null,
    sceneTitle,
    hasSection: hasSection(folded, attempt.way),
    sectionSvg: sectionSvg(folded, attempt.way),
    crankSvg: isBarred
      ? crankSvg({ crankDeg: sample?.deg ?? 0 }, { id: 'crank', title: 'Crank, by the mark on the damper' })
      : null,
    effortSvg: isBarred
      ? effortSvg({ effort: sample?.effort ?? 0 }, { id: 'effort', title: 'Effort on the bar' })
      : null,
    json: JSON.stringify({ brief, view }).replaceAll('<', '\\u003c'),
  };
}

/** The parts of a sheet with what is typed and what is wrong with it. */
export function partViews<A>(form: readonly SheetPart<A>[], typed: Typed, problems: Problems): PartView[] {
  return form.map(({ id, title, short, sets }) => ({
    id,
    title,
    short,
    sets: sets.map(({ legend, folded, table, boxes }) => {
      const views = boxes.map((box) => boxView(box, typed, problems));
      return {
        legend,
        folded,
        open: views.some(({ value, problem }) => value !== '' || problem !== undefined),
        table,
        boxes: views,
      };
    }),
  }));
}

function boxView<A>(box: Box<A>, typed: Typed, problems: Problems): BoxView {
  const common = {
    name: box.name,
    label: box.label,
    value: typed[box.name] ?? '',
    problem: problems[box.name],
    hint: box.hint,
  };
  if (box.box === 'choice')
    return { ...common, type: 'select', options: [{ value: '', text: 'Choose' }, ...box.options] };
  const unit = box.box === 'list' ? undefined : box.unit;
  return {
    ...common,
    ...(unit === undefined ? {} : { unit }),
    ...(box.note === undefined ? {} : { attrs: { 'data-note': JSON.stringify(box.note) } }),
  };
}
