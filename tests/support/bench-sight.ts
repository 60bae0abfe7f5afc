// What runs inside the page is written here too.
/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import { expect, type Page } from '@playwright/test';

/** One moment of a gauge as the page is told it. */
interface PageMoment {
  readonly pointer: number;
  readonly counter: number | null;
  readonly plungerMm: number;
  readonly deg: number | null;
  readonly effort: number | null;
}

/** What the page is told of one action. */
export interface PageSeen {
  readonly samples: readonly PageMoment[];
  readonly words: readonly string[];
  readonly codes: readonly string[];
  readonly now: { readonly sample: PageMoment | null };
  readonly view: object;
}

/** What stands on the screen once nothing moves. */
export interface AtRest {
  readonly busy: boolean;
  readonly said: string;
  readonly refused: boolean;
  /** Pointer against the face in graduations and the small hand in turns, by the angles they are drawn at; null without a dial. */
  readonly dial: { readonly pointer: number; readonly counter: number; readonly graduations: number } | null;
  readonly counterTurns: number;
}

/** Reads the bench page with the eyes: words and angles as they are shown. */
export function readBench(page: Page): Promise<AtRest> {
  return page.evaluate(() => {
    const drawing = document.querySelector<SVGSVGElement>('svg.dial-drawing');
    // What runs may have been lifted off the drawing, and is turned with its layer then.
    const angle = (name: string) => {
      const part = drawing?.parentElement?.querySelector<SVGGElement>(`[data-part="${name}"]`);
      const turned = part?.ownerSVGElement?.style.transform || part?.getAttribute('transform');
      return Number(/rotate\(([-\d.e]+)/.exec(turned ?? '')?.[1] ?? 0);
    };
    const part = (deg: number) => (((deg % 360) + 360) % 360) / 360;
    const graduations = Number(drawing?.dataset.graduations ?? 0);
    const counterTurns = Number(drawing?.dataset.counterTurns ?? 0);
    return {
      busy: document.querySelector<HTMLElement>('#bench')?.dataset.busy !== 'false',
      said: document.querySelector('#said')?.textContent ?? '',
      refused: document.querySelector<HTMLElement>('#save-state')?.dataset.state === 'refused',
      counterTurns,
      dial:
        drawing === null
          ? null
          : {
              pointer: part(angle('pointer') - angle('face')) * graduations,
              counter: part(angle('counter')) * counterTurns,
              graduations,
            },
    };
  });
}

/** The way from one place on a circle to another, either way. */
const apart = (one: number, other: number, round: number) => {
  const way = (((one - other) % round) + round) % round;
  return Math.min(way, round - way);
};

/** The page must show what it was told: the words of the action, pointer and small hand where they came to rest. */
export function expectShown(shown: AtRest, seen: PageSeen): void {
  expect(shown.refused).toBe(false);
  if (seen.words.length > 0) expect(shown.said).toBe(seen.words.join(' '));
  const { sample } = seen.now;
  expect(shown.dial === null).toBe(sample === null);
  if (sample === null || shown.dial === null) return;
  expect(apart(shown.dial.pointer, sample.pointer, shown.dial.graduations)).toBeLessThan(0.02);
  if (sample.counter === null) expect(shown.counterTurns).toBe(0);
  else expect(apart(shown.dial.counter, sample.counter, shown.counterTurns)).toBeLessThan(0.01);
}

/** What was said, with the numbers that its words tell; nothing that does not stand on the screen. */
export function saidIn({ codes, words }: PageSeen): readonly { readonly code: string }[] {
  return codes.map((code, index) => ({ code, ...told(code, words[index] ?? '') }));
}

function told(code: string, words: string): Readonly<Record<string, number>> {
  const number = (pattern: RegExp) => Number(pattern.exec(words)?.[1] ?? Number.NaN);
  switch (code) {
    case 'leans':
      return { degrees: number(/about ([\d.]+)°/) };
    case 'wrench-in-check':
    case 'wrench-overdue':
      return { wrench: number(/[Ww]rench (\d+)/) };
    case 'tester-reads':
      return { torque: number(/reads ([\d.]+)/) };
    default:
      return {};
  }
}
