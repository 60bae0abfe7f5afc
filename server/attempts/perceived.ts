import { dialSvg } from '../../views/drawing/index.ts';
import {
  type AnyAction,
  type AnyBrief,
  type AnySeen,
  type AnyView,
  brief,
  type Dial,
  type KindName,
  lookAt,
} from '../engine/index.ts';
import { type ControlSet, type DoControl, deskOf } from '../kinds/index.ts';
import type { Way } from '../labsheets/index.ts';
import type { Folded } from './folded.ts';
import { type PageSection, sectionRuns } from './section-view.ts';

/** One moment of a gauge as the page plays it, whatever kind it is of. */
export interface PageSample {
  /** Against the face, in graduations. */
  readonly pointer: number;
  /** Small hand, in turns. */
  readonly counter: number | null;
  readonly plungerMm: number;
  /** Crank, or degree of the work under the tip; null where nothing turns. */
  readonly deg: number | null;
  /** On the bar, 0 to 1; null where nobody bars. */
  readonly effort: number | null;
}

/** How the bench stands, for what the page moves; the view itself is what the drawing of the work is made from. */
export interface PageStand {
  readonly sample: PageSample | null;
  readonly indicator: 'on' | 'off';
  readonly faceTurn: number;
  readonly clamped: boolean;
  /** Degrees of crank since the zero, where they are counted. */
  readonly barredDeg: number | null;
  /** The part of the sheet that belongs here. */
  readonly part: string | null;
}

/** What the page is told of one action. */
export interface PageSeen {
  readonly samples: readonly PageSample[];
  readonly words: readonly string[];
  /** What was heard and seen, by its code: for sounds. */
  readonly codes: readonly string[];
  readonly now: PageStand;
  readonly view: AnyView;
  /** Buttons that say something else than before; left out where none does. */
  readonly controls?: readonly PageButton[];
  /** Lists that say something else than before, or offer another thing first; left out where none does. */
  readonly lists?: readonly PageList[];
  /** Where another gauge stands there than before. */
  readonly dial?: string;
  /** In practice, the section through the engine. */
  readonly section?: PageSection;
}

export type PageButton = Pick<DoControl<unknown>, 'id' | 'label' | 'action'> & { readonly pressed: boolean };

/** A list to choose from as it reads now; `first` is the place of the one offered. */
export interface PageList {
  readonly id: string;
  readonly label: string;
  readonly texts: readonly string[];
  readonly first: number;
}

type RawSample = {
  readonly pointer: number;
  readonly counter: number | null;
  readonly plungerMm: number;
  readonly crankDeg?: number;
  readonly workDeg?: number | null;
  readonly effort?: number;
};

function pageSample({ pointer, counter, plungerMm, crankDeg, workDeg, effort }: RawSample): PageSample {
  return { pointer, counter, plungerMm, deg: crankDeg ?? workDeg ?? null, effort: effort ?? null };
}

/** How the bench stands, from what a person sees of it. */
export function standOf(brief: AnyBrief, view: AnyView): PageStand {
  return {
    sample: 'sample' in view ? pageSample(view.sample) : null,
    indicator: 'indicator' in view ? view.indicator : 'off',
    faceTurn: 'faceTurn' in view ? view.faceTurn : 0,
    clamped: 'clamped' in view ? view.clamped : true,
    barredDeg: 'barredDeg' in view ? view.barredDeg : null,
    part: deskOf<KindName>(brief.kind).partAt(brief, view),
  };
}

/** The dial as it stands, drawn; null where no gauge is in hand. */
export function dialOf(brief: AnyBrief, view: AnyView): string | null {
  const dial = deskOf<KindName>(brief.kind).dial(brief, view);
  const { sample, indicator, faceTurn, clamped } = standOf(brief, view);
  if (dial === null || sample === null) return null;
  const { pointer, counter, plungerMm } = sample;
  return dialSvg(
    { dial, pointer, counter, plungerMm, faceTurn, clamped, indicator },
    { id: 'dial', title: 'Dial indicator' },
  );
}

type AnyControl = ControlSet<unknown>['controls'][number];

function controlsOf(brief: AnyBrief, view: AnyView): readonly AnyControl[] {
  return deskOf<KindName>(brief.kind)
    .controls(brief, view)
    .flatMap(({ controls }) => controls);
}

/** Buttons whose words or state may change. */
function buttonsIn(controls: readonly AnyControl[]): PageButton[] {
  return controls.flatMap((control) =>
    control.control === 'do'
      ? [{ id: control.id, label: control.label, action: control.action, pressed: control.pressed ?? false }]
      : [],
  );
}

/** Lists whose words or offer may change. */
function listsIn(controls: readonly AnyControl[]): PageList[] {
  return controls.flatMap((control) =>
    control.control === 'choose'
      ? [
          {
            id: control.id,
            label: control.label,
            texts: control.options.map(({ text }) => text),
            first: control.first ?? 0,
          },
        ]
      : [],
  );
}

/**
 * What the page is told of a batch; `before` is how it stood. Brief, views and what was perceived; only in practice the section through
 * the engine besides.
 */
export function perceived(
  before: Folded,
  actions: readonly AnyAction[],
  seen: readonly AnySeen[],
  way: Way,
): PageSeen[] {
  const plate = brief(before.bench);
  const desk = deskOf<KindName>(plate.kind);
  const sections = sectionRuns(before, actions, way);
  let last = lookAt(before.bench, before.state);
  let offered = controlsOf(plate, last);
  return seen.map((one, index) => {
    const section = sections[index] ?? null;
    const from = last;
    const { now } = one;
    last = now;
    const earlier = offered;
    offered = controlsOf(plate, now);
    const buttons = changed(buttonsIn(earlier), buttonsIn(offered));
    const lists = changed(listsIn(earlier), listsIn(offered));
    const dial = isOther(desk.dial(plate, from), desk.dial(plate, now)) ? dialOf(plate, now) : null;
    return {
      samples: 'samples' in one ? one.samples.map(pageSample) : [],
      words: one.said.map((said) => desk.said(said)),
      codes: one.said.map(({ code }) => code),
      now: standOf(plate, now),
      view: now,
      ...(buttons.length > 0 ? { controls: buttons } : {}),
      ...(lists.length > 0 ? { lists } : {}),
      ...(dial === null ? {} : { dial }),
      ...(section === null ? {} : { section }),
    };
  });
}

function changed<T extends { readonly id: string }>(before: readonly T[], now: readonly T[]): T[] {
  const known = new Map(before.map((one) => [one.id, JSON.stringify(one)]));
  return now.filter((one) => known.get(one.id) !== JSON.stringify(one));
}

const isOther = (from: Dial | null, now: Dial | null) => JSON.stringify(from) !== JSON.stringify(now);
