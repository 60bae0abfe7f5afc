import { dialSvg } from '../../views/drawing/index.ts';
import type { AnyBrief, AnySeen, AnyView, Dial, KindName } from '../engine/index.ts';
import { type DoControl, deskOf } from '../kinds/index.ts';

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
  /** Where another gauge stands there than before. */
  readonly dial?: string;
}

export type PageButton = Pick<DoControl<unknown>, 'id' | 'label' | 'action'> & { readonly pressed: boolean };

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

/** Buttons whose words or state may change, as they are now. */
export function buttonsOf(brief: AnyBrief, view: AnyView): PageButton[] {
  return deskOf<KindName>(brief.kind)
    .controls(brief, view)
    .flatMap(({ controls }) => controls)
    .flatMap((control) =>
      control.control === 'do'
        ? [
            {
              id: control.id,
              label: control.label,
              action: control.action,
              pressed: control.pressed ?? false,
            },
          ]
        : [],
    );
}

/** What the page is told of a batch; `before` is how it stood. Nothing hidden: brief, views and what was perceived. */
export function perceived(brief: AnyBrief, before: AnyView, seen: readonly AnySeen[]): PageSeen[] {
  const desk = deskOf<KindName>(brief.kind);
  let last = before;
  return seen.map((one) => {
    const from = last;
    const { now } = one;
    last = now;
    const buttons = changedButtons(brief, from, now);
    const dial = isOther(desk.dial(brief, from), desk.dial(brief, now)) ? dialOf(brief, now) : null;
    return {
      samples: 'samples' in one ? one.samples.map(pageSample) : [],
      words: one.said.map((said) => desk.said(said)),
      codes: one.said.map(({ code }) => code),
      now: standOf(brief, now),
      view: now,
      ...(buttons.length > 0 ? { controls: buttons } : {}),
      ...(dial === null ? {} : { dial }),
    };
  });
}

function changedButtons(brief: AnyBrief, from: AnyView, now: AnyView): PageButton[] {
  const before = new Map(buttonsOf(brief, from).map((button) => [button.id, JSON.stringify(button)]));
  return buttonsOf(brief, now).filter((button) => before.get(button.id) !== JSON.stringify(button));
}

const isOther = (from: Dial | null, now: Dial | null) => JSON.stringify(from) !== JSON.stringify(now);
