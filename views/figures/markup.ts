import { dialSvg } from '../drawing/dial.ts';
import { escapeText } from '../drawing/svg.ts';
import type { Control, Given, LiveFigure, Press } from './figure.ts';

/**
 * A figure as the server sends it: standing still, which is what paper and a page without script show. Its controls are there from the
 * start, so that nothing moves when the script arrives.
 */
export function figureHtml(kind: string, given: Given, figure: LiveFigure, id: string): string {
  const { drawings, dial, controls, reads, told } = figure.show();
  const places = drawings
    .map(({ name, svg }) => `<div class="figure-drawing" data-drawing="${name}">${svg}</div>`)
    .join('');
  const cells = reads
    .map(
      ({ name, label, text }) =>
        `<div><dt>${escapeText(label)}</dt><dd class="figure" data-read="${name}">${escapeText(text)}</dd></div>`,
    )
    .join('');
  const face =
    dial === null
      ? ''
      : `<dial-face class="figure-dial">${dialSvg(dial, { id: `${id}-dial`, title: dial.title })}</dial-face>`;
  return (
    `<figure class="live-figure-frame"><live-figure class="live-figure" id="${id}" data-figure="${kind}" ` +
    `data-given="${escapeText(JSON.stringify(given))}"${dial === null ? '' : ' data-with-dial'}>` +
    `<div class="figure-drawings">${places}</div>${face}` +
    (cells === '' ? '' : `<dl class="job-cells figure-reads">${cells}</dl>`) +
    `<div class="figure-controls">${controlsHtml(controls, id)}</div>` +
    `<p class="figure-told" role="status"${told === null ? ' hidden' : ''}>${escapeText(told ?? '')}</p>` +
    `</live-figure><figcaption>${escapeText(figure.caption)}</figcaption></figure>`
  );
}

/** Neighbouring buttons share a grid; sliders and lists stand on lines of their own. */
function controlsHtml(controls: readonly Control[], id: string): string {
  let html = '';
  let buttons: Press[] = [];
  const close = () => {
    if (buttons.length > 0) html += `<div class="button-grid">${buttons.map(pressHtml).join('')}</div>`;
    buttons = [];
  };
  for (const control of controls) {
    if (control.kind === 'press') {
      buttons.push(control);
      continue;
    }
    close();
    html += lineHtml(control, `${id}-${control.name}`);
  }
  close();
  return html;
}

function lineHtml(control: Exclude<Control, Press>, id: string): string {
  const { name, label } = control;
  if (control.kind === 'choose') {
    const options = control.options
      .map(
        (option) =>
          `<option value="${escapeText(option.value)}"${option.value === control.value ? ' selected' : ''}>${escapeText(option.label)}</option>`,
      )
      .join('');
    return (
      `<div class="figure-line field"><label for="${id}">${escapeText(label)}</label>` +
      `<select id="${id}" data-control="${name}" autocomplete="off">${options}</select></div>`
    );
  }
  const { min, max, step, value, said } = control;
  return (
    `<div class="figure-line"><label for="${id}">${escapeText(label)}</label><span class="figure-said figure" data-said="${name}">${escapeText(said)}</span>` +
    `<input type="range" id="${id}" data-control="${name}" min="${min}" max="${max}" step="${step}" value="${value}" ` +
    `aria-valuetext="${escapeText(said)}" autocomplete="off"></div>`
  );
}

function pressHtml({ name, label, pressed, off }: Press): string {
  const state =
    (pressed === undefined ? '' : ` aria-pressed="${pressed}"`) + (off ? ' aria-disabled="true"' : '');
  return `<button type="button" class="button plain bench" data-press="${name}"${state}>${escapeText(label)}</button>`;
}
