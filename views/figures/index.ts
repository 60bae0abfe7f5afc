import { adapterFigure } from './adapter.ts';
import { cycleFigure } from './cycle.ts';
import { dialFigure } from './dial.ts';
import type { FigureKind, Given, LiveFigure } from './figure.ts';
import { leanFigure } from './lean.ts';
import { liftFigure } from './lift.ts';
import { limitsFigure } from './limits.ts';
import { lobeFigure } from './lobe.ts';
import { repeatFigure } from './repeat.ts';
import { rollerFigure } from './roller.ts';
import { workFigure } from './work.ts';

/** The figures that can be used, by the name a lesson writes. */
export const FIGURES: Readonly<Record<string, FigureKind>> = {
  lift: liftFigure,
  dial: dialFigure,
  lean: leanFigure,
  cycle: cycleFigure,
  lobe: lobeFigure,
  limits: limitsFigure,
  adapter: adapterFigure,
  work: workFigure,
  roller: rollerFigure,
  repeat: repeatFigure,
};

/** A figure as a reader finds it; `id` is unique on the page. @throws RangeError for a name, a key or a value that is not known. */
export function beginFigure(name: string, given: Given, id: string): LiveFigure {
  const kind = Object.hasOwn(FIGURES, name) ? FIGURES[name] : undefined;
  if (kind === undefined) throw new RangeError(`is not known; known are ${Object.keys(FIGURES).join(', ')}`);
  const unknown = Object.keys(given).find((key) => !kind.takes.includes(key));
  if (unknown !== undefined)
    throw new RangeError(`does not take ${unknown}; it takes ${kind.takes.join(', ') || 'nothing'}`);
  return kind.begin(given, id);
}

export type { Control, Given, LiveFigure, Shown } from './figure.ts';
export { figureHtml } from './markup.ts';
