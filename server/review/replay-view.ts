import { packPlaces } from '../../views/client/models/replay.ts';
import { dialSvg } from '../../views/drawing/index.ts';
import { plotSvg } from '../../views/drawing/plot.ts';
import type { TraceRun } from '../engine/index.ts';
import type { GradedKind, GradedParts } from './graded-kind.ts';
import type { Replay } from './replay-frames.ts';
import { placesOn } from './replay-plots.ts';

/** A remark that has a moment in the replay. */
export interface ReplayMoment {
  readonly words: string;
  readonly frame: number;
  readonly line: string;
  /** How far along the slider, 0 to 1000: where its tick is drawn. */
  readonly along: number;
  readonly what: 'stop' | 'remark' | 'mistake';
}

/** The replay as views/parts/graded-replay.eta draws it. */
export interface ReplayView {
  readonly json: string;
  readonly start: number;
  readonly last: number;
  readonly dials: readonly string[];
  readonly plots: readonly { readonly title: string; readonly svg: string }[];
  /** What is told of the work beside the dial: crank or work, or neither. */
  readonly turned: 'Crank' | 'Work' | null;
  /** Is there a thin line of a clean run in the plots? */
  readonly hasClean: boolean;
  readonly moments: readonly ReplayMoment[];
}

/** Draws everything the replay moves: its dials, its plots, and the moments of the remarks. */
export function replayView(
  replay: Replay,
  trace: readonly TraceRun[],
  kind: GradedKind,
  parts: GradedParts,
  start: number,
): ReplayView {
  const { frames, data } = replay;
  const last = Math.max(0, frames.length - 1);
  const plots = trace.map((run, index) => {
    const clean = kind.cleanLine(run);
    const title = setUpTitle(run, trace, kind);
    const svg = plotSvg(run, kind.dialOfRun(run), {
      id: `replay-plot-${index}`,
      title,
      size: 'narrow',
      ...(kind.turned === null ? {} : { turned: kind.turned }),
      ...(clean === null ? {} : { clean }),
    });
    return { title, svg, clean: clean !== null };
  });
  return {
    json: safeJson({ ...data, ...packPlaces(placesOn(frames, trace)) }),
    start,
    last,
    dials: replay.dials.map((dial, index) =>
      dialSvg(
        { dial, pointer: 0, counter: 0, faceTurn: 0, clamped: false, plungerMm: 0, indicator: 'on' },
        {
          id: index === 0 ? 'replay-dial' : `replay-dial-${index + 1}`,
          title: 'The dial as it stood',
        },
      ),
    ),
    plots: plots.map(({ title, svg }) => ({ title, svg })),
    turned: kind.turned === null ? null : kind.turned === 'work turned' ? 'Work' : 'Crank',
    hasClean: plots.some(({ clean }) => clean),
    moments: momentsOf(parts, last),
  };
}

function setUpTitle(run: TraceRun, trace: readonly TraceRun[], kind: GradedKind): string {
  const same = trace.filter(({ position }) => position === run.position);
  const of = same.length > 1 ? `, set-up ${same.indexOf(run) + 1} of ${same.length}` : '';
  return `${kind.runTitle(run)}${of}`;
}

/** Stops, mistakes and remarks that have a moment, in the order they came about. */
function momentsOf({ stops, general, lobes, items }: GradedParts, last: number): ReplayMoment[] {
  const places = [
    ...lobes.map((lobe) => ({ name: `Position ${lobe.position}`, ...lobe })),
    ...items.map((item) => ({ name: items.length > 1 ? item.title : '', ...item })),
  ];
  const all = [
    ...stops.map((one) => ({ ...one, name: '', what: 'stop' as const })),
    ...general.map((one) => ({ ...one, name: '', what: 'remark' as const })),
    ...places.flatMap(({ name, mistakes, remarks }) => [
      ...mistakes.map((one) => ({ ...one, name, what: 'mistake' as const })),
      ...remarks.map((one) => ({ ...one, name, what: 'remark' as const })),
    ]),
  ];
  return all
    .flatMap(({ moment, seen, name, what }): ReplayMoment[] =>
      moment === null
        ? []
        : [
            {
              words: name === '' ? seen : `${name}: ${seen}`,
              frame: moment.frame,
              line: moment.line,
              along: last === 0 ? 0 : Math.round((1000 * moment.frame) / last),
              what,
            },
          ],
    )
    .sort((a, b) => a.frame - b.frame);
}

/** JSON inside a script element: `<` written so that nothing can end the element early. */
function safeJson(data: unknown): string {
  return JSON.stringify(data).replaceAll('<', '\\u003c');
}
