import { crankSvg, effortSvg } from '../../views/drawing/index.ts';
import { sceneOf } from '../../views/scenes/index.ts';
import { type AnyAction, type AnyBrief, brief as briefOf, type KindName, lookAt } from '../engine/index.ts';
import {
  type ControlSet,
  deskOf,
  type Fact,
  gaugeFacts,
  type PartView,
  partViews,
  type Typed,
} from '../kinds/index.ts';
import type { Problems } from '../web/forms.ts';
import type { Folded } from './folded.ts';
import { dialOf, standOf } from './perceived.ts';
import type { OwnAttempt } from './queries.ts';
import { hasSection, sectionSvg } from './section-view.ts';

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
