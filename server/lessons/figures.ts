import { startFigure } from '../../views/client/models/lift-figure.ts';
import { figureParts } from '../../views/client/models/lift-figure-parts.ts';
import { type DialDrawing, dialSvg } from '../../views/drawing/dial.ts';
import { graduationsPerTurn, toMm } from '../engine/index.ts';
import { type Call, TemplateProblem, textOf } from './template.ts';
import { plungerAt, readingOf } from './worked-kit.ts';

/** A figure's HTML; `number` makes its ids its own on the page. @throws TemplateProblem for a figure that is not known. */
export function drawFigure(call: Call, number: number): string {
  const [kind] = call.words;
  if (kind === 'lift') return liftFigure();
  if (kind === 'dials') return dialsFigure(call, number);
  throw new TemplateProblem(`holds {{figure ${kind ?? ''}}}, which is not known; known are lift, dials`);
}

/** The live figure as it stands before anything is moved: what print and a page without script show. */
function liftFigure(): string {
  const { dial, cutaway, readouts } = figureParts(startFigure());
  const cells = readouts
    .map(
      ({ name, label, text }) =>
        `<div><dt>${label}</dt><dd class="figure" data-read="${name}">${text}</dd></div>`,
    )
    .join('');
  return (
    '<figure class="lift-figure-frame"><lift-figure class="lift-figure">' +
    `<div class="lift-cutaway" data-drawing="cutaway">${cutaway}</div>` +
    `<dl class="job-cells lift-reads">${cells}</dl>` +
    `<dial-face class="lift-dial">${dial}</dial-face></lift-figure>` +
    '<figcaption>Section through one lobe. From the top: tip of the indicator, rod, roller tappet in its bore, cam. Beside it the indicator itself.</figcaption></figure>'
  );
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
