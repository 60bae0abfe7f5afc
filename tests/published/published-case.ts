import { existsSync, readFileSync } from 'node:fs';
import type { StudyReading } from '../../server/engine/index.ts';
import { fromRoot } from '../../server/root.ts';

/**
 * How far a published value was checked: seen in a stored public copy of the source; remembered from it (and, where inputs were remembered too, they give
 * it); or computed from the source's formula by other means than ours.
 */
export type Checked = 'seen' | 'from memory' | 'computed';

/** One value from outside, and ours for it. */
export interface PublishedCase {
  readonly what: string;
  readonly source: string;
  readonly checked: Checked;
  /** As printed, with all its digits; or a word. */
  readonly published: string;
  /** A thunk, so that one refusal fails one case. */
  readonly ours: () => number | string;
  /** Largest difference from the printed number; 0 for a whole number or a word. */
  readonly within: number;
}

/** Cases of one source: what is left is what differs between them. */
export function from(source: string, checked: Checked) {
  return (what: string, published: string, within: number, ours: PublishedCase['ours']): PublishedCase => ({
    what,
    source,
    checked,
    published,
    within,
    ours,
  });
}

/** Half a unit of the last printed digit: ours must round to the print. */
export function asPrinted(published: string): number {
  const [mantissa = '', exponent = '0'] = published.toLowerCase().split('e');
  const decimals = mantissa.split('.')[1]?.length ?? 0;
  // A hair more, for prints that end on a five.
  return 0.5000001 * 10 ** (Number(exponent) - decimals);
}

/** So many correct digits of the published number. */
export function digits(published: string, count: number): number {
  return Math.abs(Number(published)) * 10 ** -count;
}

/** A value a case cannot do without. @throws Error when it is missing. */
export function present<T>(value: T | null | undefined): T {
  if (value === null || value === undefined) throw new Error('The engine gave nothing here.');
  return value;
}

const published = (...names: string[]) => fromRoot('tests', 'published', ...names);

/** Lines of a data file of this folder without its heading, split at commas (none of the files quotes). */
export function linesOf(...names: string[]): string[][] {
  return splitLines(readFileSync(published(...names), 'utf8'));
}

export function jsonOf(...names: string[]): unknown {
  return JSON.parse(readFileSync(published(...names), 'utf8'));
}

/** Sets that may not be copied are read from beside the project where they are; null where they are not. */
export function keptApart(...names: string[]): string[][] | null {
  const file = fromRoot('..', 'shared', 'reference', ...names);
  return existsSync(file) ? splitLines(readFileSync(file, 'utf8')) : null;
}

/** Lines part,appraiser,trial,value. */
export function studyReadings(lines: readonly string[][]): StudyReading[] {
  return lines.map(([part = '', appraiser = '', , value]) => ({ part, appraiser, value: Number(value) }));
}

function splitLines(text: string): string[][] {
  return text
    .trim()
    .split(/\r?\n/)
    .slice(1)
    .map((line) => line.split(','));
}
