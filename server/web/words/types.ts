import type { Dial, LobeOutcome, Remark, Specification, WrittenLobe } from '../../engine/index.ts';

/** What was seen and why it matters: two short sentences, or a few. */
export interface Words {
  readonly seen: string;
  readonly why: string;
}

/** What a remark may speak of besides its own values. */
export interface About {
  readonly dial: Dial;
  readonly specification: Specification;
  /** The lobe it is about, where it is about one. */
  readonly lobe: LobeOutcome | null;
  /** What was written for that lobe. */
  readonly written: WrittenLobe | null;
}

export type Values = Remark['values'];

/** Words of a remark of the kinds other than cam lift, from its values and the dial it was read on. */
export type Speak = (values: Values, dial: Dial) => Words;

/** A number out of a remark's values; 0 where there is none. */
export function numberIn(values: Values, name: string): number {
  const value = values[name];
  return typeof value === 'number' ? value : 0;
}

export function textIn(values: Values, name: string): string {
  const value = values[name];
  return typeof value === 'string' ? value : '';
}

export function listIn(values: Values, name: string): readonly string[] {
  const value = values[name];
  return Array.isArray(value) ? value : [];
}

/** `Position 4, reading 1`, `Position 4`, or nothing where it is about the whole run. */
export function placeWords(place: {
  readonly position: number | null;
  readonly reading: number | null;
}): string {
  if (place.position === null) return '';
  return place.reading === null
    ? `Position ${place.position}`
    : `Position ${place.position}, reading ${place.reading}`;
}

/** A sentence after its place: `Position 4, reading 1: it looks as if …`. */
export function placed(place: string, sentence: string): string {
  if (place === '') return sentence;
  return `${place}: ${sentence.charAt(0).toLowerCase()}${sentence.slice(1)}`;
}
