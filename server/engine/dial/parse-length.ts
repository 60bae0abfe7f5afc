import { convertLength, type LengthUnit } from '../units.ts';

/** A length read from what a person typed, in the dial's unit; or why it could not be, with a guess at what was meant. */
export type ParsedLength =
  | { readonly ok: true; readonly value: number | null }
  | { readonly ok: false; readonly why: 'not-a-length' | 'implausible'; readonly meant: number | null };

/** Words and marks after a number. A thou is a thousandth of an inch. */
const UNITS: Readonly<Record<string, { unit: LengthUnit; scale: number }>> = {
  in: { unit: 'in', scale: 1 },
  inch: { unit: 'in', scale: 1 },
  inches: { unit: 'in', scale: 1 },
  '"': { unit: 'in', scale: 1 },
  thou: { unit: 'in', scale: 0.001 },
  mil: { unit: 'in', scale: 0.001 },
  mm: { unit: 'mm', scale: 1 },
  µm: { unit: 'mm', scale: 0.001 },
  μm: { unit: 'mm', scale: 0.001 },
  um: { unit: 'mm', scale: 0.001 },
};

const SHAPE = /^([+\-−]?)\s*(\d*)(?:[.,](\d*))?\s*([a-zµμ"]*)\.?$/iu;

/**
 * Reads a length as people write it on a sheet: `.237`, `0.237`, `0,237`, `237 thou` and `0.237 in` are the same answer. Blank gives
 * null. A bare number larger than the gauge could show is asked about ("Do you mean 0.237 in?"), not guessed at.
 * `unit` is the dial's; `most` the largest plausible size in it, above 0. Never throws: what is no length is said to be none. Source: the
 * ways of writing are common practice, no source; 1 in = 25.4 mm exactly.
 */
export function parseLength(text: string, unit: LengthUnit, most: number): ParsedLength {
  const trimmed = text.trim();
  if (trimmed === '') return { ok: true, value: null };
  const [, sign = '', whole = '', decimals = '', word = ''] = SHAPE.exec(trimmed) ?? [];
  const named = word === '' ? { unit, scale: 1 } : UNITS[word.toLowerCase()];
  if ((whole === '' && decimals === '') || named === undefined)
    return { ok: false, why: 'not-a-length', meant: null };
  const size = Number(`${whole || '0'}.${decimals || '0'}`) * named.scale;
  const value = convertLength(sign === '-' || sign === '−' ? -size : size, named.unit, unit);
  const rounded = Number(value.toFixed(6));
  if (Math.abs(rounded) <= most) return { ok: true, value: rounded };
  const scale = unit === 'in' ? 0.001 : 0.01;
  const meant = Number((rounded * scale).toFixed(6));
  return { ok: false, why: 'implausible', meant: word === '' && Math.abs(meant) <= most ? meant : null };
}
