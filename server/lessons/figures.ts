import { type DialDrawing, dialSvg } from '../../views/drawing/dial.ts';
import { beginFigure, figureHtml } from '../../views/figures/index.ts';
import { graduationsPerTurn, toMm } from '../engine/index.ts';
import { type Call, TemplateProblem, textOf } from './template.ts';
import { plungerAt, readingOf } from './worked-kit.ts';

/** A figure as it stands before anything is moved: what print and a page without script show. */
export interface DrawnFigure {
  readonly html: string;
  /** Can it be used? Then the page needs its script. */
  readonly live: boolean;
}

/** A figure's HTML; `number` makes its ids its own on the page. @throws TemplateProblem for a figure that is not known. */
export function drawFigure(call: Call, number: number): DrawnFigure {
  const [name = ''] = call.words;
  if (name === 'dials') return { html: dialsFigure(call, number), live: false };
  const id = `figure-${number}`;
  try {
    return { html: figureHtml(name, call.given, beginFigure(name, call.given, id), id), live: true };
  } catch (error) {
    if (error instanceof RangeError)
      throw new TemplateProblem(`holds {{figure ${name}}}, which ${error.message}`);
    throw error;
  }
}

/** The same dial twice: zeroed, and at the high point. */
function dialsFigure(call: Call, number: number): string {
  const { dial, reading, counterBefore } = readingOf(call);
  const caption = textOf(call, 'caption');
  const at = (pointer: number, counter: number | null, plunger: number): DialDrawing => ({
    dial,
    pointer,
    counter,
    // The bezel has been turned so that zero lies under the pointer where the plunger stood.
    faceTurn: (counterBefore % 1) * graduationsPerTurn(dial),
    clamped: true,
    indicator: 'on',
    plungerMm: toMm(plunger, dial.unit),
  });
  const place = plungerAt(counterBefore, dial);
  const small = (turns: number | null) => (turns === null ? '' : `, small hand at ${turns.toFixed(1)}`);
  const before = dialSvg(at(0, reading.counter === null ? null : counterBefore, place), {
    id: `dials-${number}-before`,
    title: `Zeroed on the base circle: pointer at 0${small(counterBefore)}.`,
  });
  const high = dialSvg(at(reading.pointer, reading.counter, place + reading.reading), {
    id: `dials-${number}-high`,
    title: `At the high point: pointer at ${reading.pointer}${small(reading.counter)}.`,
  });
  return (
    `<figure class="dial-pair"><div class="dial-pair-row"><div>${before}<p class="dial-pair-word">Zeroed</p></div>` +
    `<div>${high}<p class="dial-pair-word">High point</p></div></div><figcaption>${caption.replace(/[<>&"]/g, '')}</figcaption></figure>`
  );
}
