import type { AnyBrief, Dial, KindName } from '../engine/index.ts';
import { isKind } from '../engine/index.ts';
import {
  boxWords,
  decimalsOf,
  FAULT_WORDS,
  fineLengthWords,
  GAUGED_VERDICT_WORDS,
  torqueUnitWords,
  wordsFor,
} from '../web/words/index.ts';
import { capital } from './views.ts';

/** Who says a value: an eye that wrote it, or the engine. */
export type ValueOf = 'written' | 'worked-out';

/** What is no length, by kind. */
const DEGREES: Readonly<Partial<Record<KindName, readonly string[]>>> = {
  'run-out': ['high-spot'],
  'lift-curve': ['high-point', 'opens', 'closes', 'width', 'centre'],
};

/** A value of an item with its unit: lengths in the dial's, angles in degrees, ratios bare, torques in the wrench's unit or the job's. */
export function itemValueWords(
  brief: AnyBrief,
  name: string,
  value: number | null | undefined,
  dial: Dial,
  who: ValueOf,
  item: number,
): string {
  if (value === null || value === undefined) return who === 'written' ? 'blank' : '';
  if (isKind(brief, 'torque-adapter')) {
    const unit = name === 'setting' ? brief.scale.unit : (brief.joints[item - 1]?.unit ?? brief.scale.unit);
    return withUnit(plainNumber(value, 2), torqueUnitWords(unit));
  }
  if (DEGREES[brief.kind]?.includes(name)) {
    const once = brief.kind === 'run-out' ? ((value % 360) + 360) % 360 : value;
    return `${plainNumber(once, 1)}°`;
  }
  if (brief.kind === 'valve-lift' && name === 'ratio')
    return who === 'written' ? plainNumber(value, 3) : signed(value, 2);
  return who === 'written' ? writtenLength(value, dial) : fineLengthWords(value, dial);
}

/** A length as it was written: with the dial's decimals, or as many more as were written. */
export function writtenLength(value: number, dial: Dial): string {
  const own = String(Number(value.toFixed(6))).split('.')[1]?.length ?? 0;
  return withUnit(signed(value, Math.max(decimalsOf(dial), own)), dial.unit);
}

function plainNumber(value: number, most: number): string {
  return signed(value, Math.min(most, String(Number(value.toFixed(most))).split('.')[1]?.length ?? 0));
}

/** A minus sign as it is printed, and none before nothing. */
function signed(value: number, decimals: number): string {
  const size = Math.abs(value).toFixed(decimals);
  return `${value < 0 && Number(size) !== 0 ? '−' : ''}${size}`;
}

function withUnit(figure: string, unit: string): string {
  return `${figure}\u00a0${unit}`;
}

/** What a bore gauge's places and an indicator's points are called on the sheet. */
const PATTERNS: readonly (readonly [RegExp, (found: readonly string[], unit: string) => string])[] = [
  [/^up-at-(.+)$/, ([at = ''], unit) => `going in, at ${at} ${unit}`],
  [/^down-at-(.+)$/, ([at = ''], unit) => `coming back, at ${at} ${unit}`],
  [/^repeat-(\d+)$/, ([at = '']) => `let down, time ${at}`],
  [/^reading-(\w+)-(along|across)$/, ([level = '', axis = '']) => `reading, ${level}, ${axis}`],
  [/^diameter-(\w+)-(along|across)$/, ([level = '', axis = '']) => `diameter, ${level}, ${axis}`],
];

const OWN: Readonly<Record<string, string>> = {
  'sticks-at': 'plunger sticks at',
  'least-torque': 'least torque on a bolt',
  'largest-torque': 'largest torque on a bolt',
  lift: 'lift of the lobe',
  setting: 'setting of the wrench',
  within: 'difference within the liner',
};

/** What a box or a result is called. */
export function itemRowWords(name: string, dial: Dial): string {
  for (const [pattern, words] of PATTERNS) {
    const found = pattern.exec(name);
    if (found !== null) return capital(words(found.slice(1), dial.unit));
  }
  return capital(Object.hasOwn(OWN, name) ? (OWN[name] ?? name) : boxWords(name));
}

/** A verdict as it is written on the sheet; in fault finding it is the name of a fault. */
export function itemVerdictWords(kind: KindName, verdict: string): string {
  return kind === 'fault-finding' ? wordsFor(FAULT_WORDS, verdict) : wordsFor(GAUGED_VERDICT_WORDS, verdict);
}
