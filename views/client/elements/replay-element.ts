import {
  dueTimes,
  frameDue,
  holdTimes,
  lineOf,
  nextAction,
  type PlotPlace,
  type ReplayData,
  type ReplayFrame,
  type ReplayShown,
  shareOfAction,
  shownAt,
  type ToldLine,
  unpackFrames,
  unpackPlaces,
} from '../models/replay.ts';
import { travelWords, turnsWords } from '../models/replay-words.ts';
import { DialFace } from './dial-element.ts';

/** The detail of a `replay-moment` event: what is shown now, for whatever moves along with the dial. */
export interface ReplayMoment {
  /** Index of the action in the log. */
  readonly at: number;
  /** Of the action, 0 to 1. */
  readonly share: number;
  /** Crank or work, 0 to 360. */
  readonly deg: number;
  readonly plungerMm: number;
}

/** A remark stays to be read for so many frames past its moment. */
const REMARK_FRAMES = 12;

/**
 * `<attempt-replay>`: the dial all the way through an attempt. The server's markup holds the controls and the data; without script it
 * stays hidden. With `data-told` it stops at every line of the log for its words, and then for what was heard. It sends a `replay-moment` event
 * for whatever moves along. Links with `data-frame` anywhere on the page bring it to their moment.
 */
export class AttemptReplay extends HTMLElement {
  #data: ReplayData | null = null;
  #frames: readonly ReplayFrame[] = [];
  #places: readonly (PlotPlace | null)[] = [];
  #cursors: (Cursor | null)[] = [];
  #lines: readonly ToldLine[] = [];
  /** Only where the work is told. */
  #holds: readonly number[] = [];
  #index = 0;
  #tick = 0;
  #cameFrom: HTMLElement | null = null;
  /** The line of the log marked as being shown. */
  #pointedAt = -1;

  connectedCallback(): void {
    const text = this.#part('data').textContent ?? '';
    this.#data = JSON.parse(text) as ReplayData;
    this.#frames = unpackFrames(this.#data);
    if (this.#frames.length === 0) return;
    this.#places = unpackPlaces(this.#data);
    this.#cursors = [...this.querySelectorAll<HTMLElement>('[data-replay-plot]')].map(cursorOn);
    this.#lines = linesOnPage();
    if ('told' in this.dataset) this.#holds = holdTimes(this.#frames, this.#lines);
    this.hidden = false;
    const slider = this.#slider();
    slider.addEventListener('input', () => {
      this.pause();
      this.seek(Number(slider.value));
    });
    this.#part('play').addEventListener('click', () => (this.#tick === 0 ? this.play() : this.pause()));
    this.#part('back').addEventListener('click', () => this.#step(-1));
    this.#part('on').addEventListener('click', () => this.#step(1));
    this.#part('speed').addEventListener('change', () => {
      if (this.#tick !== 0) this.play();
    });
    this.#part('return')
      .querySelector('a')
      ?.addEventListener('click', (event) => this.#goBack(event));
    document.addEventListener('click', this.#onLink);
    this.seek(Number(slider.value));
  }

  disconnectedCallback(): void {
    this.pause();
    document.removeEventListener('click', this.#onLink);
  }

  /** Shows one frame; outside is held to the ends. */
  seek(index: number): void {
    this.#index = Math.min(Math.max(Math.round(index), 0), this.#frames.length - 1);
    this.#draw(0, true);
  }

  /** Plays from where it stands, from the start when it stands at the end. */
  play(): void {
    this.pause();
    if (this.#index >= this.#frames.length - 1) this.#index = 0;
    const due = dueTimes(this.#frames, Number((this.#part('speed') as HTMLSelectElement).value), this.#holds);
    const stepped = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
    const offset = due[this.#index] ?? 0;
    let start: number | null = null;
    this.#part('play').textContent = 'Pause';
    const tick = (now: number): void => {
      start ??= now;
      const time = offset + now - start;
      this.#index = frameDue(due, time);
      const here = due[this.#index] ?? 0;
      const next = due[this.#index + 1] ?? here;
      const off = here + (this.#holds[this.#index] ?? 0);
      this.#draw(stepped || time <= off || next <= off ? 0 : (time - off) / (next - off), false);
      if (this.#index >= this.#frames.length - 1) this.pause();
      else this.#tick = requestAnimationFrame(tick);
    };
    this.#tick = requestAnimationFrame(tick);
  }

  pause(): void {
    cancelAnimationFrame(this.#tick);
    this.#tick = 0;
    this.#part('play').textContent = 'Play';
    this.#say();
  }

  #step(way: 1 | -1): void {
    this.pause();
    this.seek(nextAction(this.#frames, this.#index, way));
  }

  readonly #onLink = (event: MouseEvent): void => {
    const link = event.target instanceof Element ? event.target.closest<HTMLElement>('a[data-frame]') : null;
    if (link === null || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    this.pause();
    this.seek(Number(link.dataset.frame));
    this.#cameFrom = link;
    this.#part('return').hidden = false;
    this.scrollIntoView({ block: 'nearest' });
    this.#slider().focus({ preventScroll: true });
  };

  #goBack(event: Event): void {
    event.preventDefault();
    this.#part('return').hidden = true;
    this.#cameFrom?.scrollIntoView({ block: 'center' });
    this.#cameFrom?.focus({ preventScroll: true });
  }

  #draw(share: number, still: boolean): void {
    const shown = this.#data === null ? null : shownAt(this.#data, this.#frames, this.#index, share);
    if (shown === null) return;
    const { pointer, counter, plungerMm, faceTurn, clamped } = shown;
    const stands = [...this.querySelectorAll<HTMLElement>('[data-replay-dial]')];
    stands.forEach((stand, index) => {
      stand.hidden = index !== shown.dialIndex;
    });
    const dial = stands[shown.dialIndex]?.querySelector('dial-face');
    if (dial instanceof DialFace) dial.show({ pointer, counter, plungerMm, faceTurn, clamped });
    const drawing = dial?.querySelector<SVGSVGElement>('svg.dial-drawing');
    if (drawing) drawing.dataset.indicator = shown.on ? 'on' : 'off';
    this.#pointOut();
    this.#slider().value = String(this.#index);
    this.#write(shown);
    const detail: ReplayMoment = {
      at: shown.at,
      share: shareOfAction(this.#frames, this.#index, share),
      deg: ((shown.crankDeg % 360) + 360) % 360,
      plungerMm: shown.plungerMm,
    };
    this.dispatchEvent(new CustomEvent('replay-moment', { detail }));
    if (still) this.#say();
  }

  /** The plot this moment belongs to, with the place on its line. */
  #pointOut(): void {
    const place = this.#places[this.#index] ?? null;
    this.#cursors.forEach((cursor, plot) => {
      if (cursor === null) return;
      cursor.figure.hidden = place?.plot !== plot;
      const point = place?.plot === plot ? cursor.points[place.point] : undefined;
      cursor.dot.setAttribute('visibility', point === undefined ? 'hidden' : 'visible');
      if (point === undefined) return;
      cursor.dot.setAttribute('cx', String(point[0]));
      cursor.dot.setAttribute('cy', String(point[1]));
    });
  }

  /** The remark whose moment this is, or was a moment ago. */
  #remarkHere(): string {
    const links = [...this.querySelectorAll<HTMLElement>('a[data-remark]')];
    const near = links.findLast(({ dataset }) => {
      const since = this.#index - Number(dataset.frame);
      return since >= 0 && since <= REMARK_FRAMES;
    });
    return near?.textContent ?? '';
  }

  /** The line of the log that is being shown stands out in the list of them. */
  #pointAt(line: number): void {
    if (line === this.#pointedAt) return;
    const lines = document.querySelectorAll<HTMLElement>('.log-lines [data-from]');
    lines[this.#pointedAt]?.removeAttribute('aria-current');
    lines[line]?.setAttribute('aria-current', 'step');
    this.#pointedAt = line;
  }

  #write(shown: ReplayShown): void {
    const write = (part: string, text: string) => {
      const place = this.querySelector<HTMLElement>(`[data-replay="${part}"]`);
      if (place !== null && place.textContent !== text) place.textContent = text;
    };
    write('remark', 'told' in this.dataset ? this.#heardHere() : this.#remarkHere());
    write('line', this.#lineAt(shown.at));
    this.#pointAt(lineOf(this.#lines, shown.at));
    write('travel', travelWords(shown));
    write('count', turnsWords(shown));
    const counterTurn = shown.counter === null ? null : ((shown.counter % 10) + 10) % 10;
    write('counter', !shown.on || counterTurn === null ? '' : counterTurn.toFixed(1));
    write('crank', `${Math.round(((shown.crankDeg % 360) + 360) % 360) % 360}°`);
  }

  /** What a screen reader says of the slider; not while it plays, or it would never be silent. */
  #say(): void {
    const data = this.#data;
    const shown = data === null ? null : shownAt(data, this.#frames, this.#index);
    if (shown === null) return;
    const place = shown.position === null ? '' : `Position ${shown.position}. `;
    this.#slider().setAttribute('aria-valuetext', `${place}${this.#lineAt(shown.at)} ${travelWords(shown)}`);
  }

  #lineAt(action: number): string {
    return this.#lines[lineOf(this.#lines, action)]?.words ?? '';
  }

  /** What was heard of a line, once its last frame is shown. */
  #heardHere(): string {
    const [here, next] = [this.#frames[this.#index], this.#frames[this.#index + 1]];
    if (here === undefined) return '';
    const line = lineOf(this.#lines, here.at);
    return next !== undefined && lineOf(this.#lines, next.at) === line
      ? ''
      : (this.#lines[line]?.heard ?? '');
  }

  #slider(): HTMLInputElement {
    return this.#part('slider') as HTMLInputElement;
  }

  #part(name: string): HTMLElement {
    const part = this.querySelector<HTMLElement>(`[data-replay="${name}"]`);
    if (part === null) throw new Error(`The replay has no ${name}`);
    return part;
  }
}

/** The lines of the log, as the page has them. */
function linesOnPage(): ToldLine[] {
  return [...document.querySelectorAll<HTMLElement>('.log-lines [data-from]')].map((line) => ({
    from: Number(line.dataset.from),
    words: line.querySelector('[data-words]')?.textContent ?? '',
    heard: line.querySelector('[data-heard]')?.textContent ?? '',
  }));
}

/** A plot with the dot that follows the replay on it. */
interface Cursor {
  readonly figure: HTMLElement;
  readonly dot: SVGCircleElement;
  /** Where each point of the line lies in the drawing. */
  readonly points: readonly (readonly [number, number])[];
}

function cursorOn(figure: HTMLElement): Cursor | null {
  const path = figure.querySelector('path.plot-line');
  if (path === null) return null;
  const numbers = (path.getAttribute('d') ?? '').match(/-?\d+(\.\d+)?/g)?.map(Number) ?? [];
  const points: [number, number][] = [];
  for (let index = 0; index + 1 < numbers.length; index += 2)
    points.push([numbers[index] ?? 0, numbers[index + 1] ?? 0]);
  const dot = document.createElementNS('http://www.w3.org/2000/svg', 'circle');
  dot.setAttribute('class', 'plot-cursor');
  dot.setAttribute('r', '6');
  path.after(dot);
  return { figure, dot, points };
}

/** Makes `<attempt-replay>` known to the page; calling it twice does no harm. */
export function defineAttemptReplay(): void {
  if (!customElements.get('attempt-replay')) customElements.define('attempt-replay', AttemptReplay);
}
