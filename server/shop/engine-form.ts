import { type LengthUnit, parseLength } from '../engine/index.ts';
import type { Problems, Values } from '../web/forms.ts';

/** A torque of the engine's, as its manual gives it. */
export interface Torque {
  readonly what: string;
  readonly value: number;
  readonly unit: 'lbf·ft' | 'N·m';
}

/** A real engine as it is written down: what stands on its plate, and what its manual says. */
export interface ShopEngineContent {
  readonly name: string;
  /** The number it goes by in the shop. */
  readonly number: string;
  /** Unit pumps, and so injection lobes. */
  readonly pumps: number;
  /** Cylinders in the order they fire; empty where it was not written down. */
  readonly firingOrder: readonly number[];
  /** The way it is barred, as its manual says it. */
  readonly barring: string;
  readonly unit: LengthUnit;
  readonly nominal: number | null;
  /** A side may be open; not both. */
  readonly lower: number | null;
  readonly upper: number | null;
  /** The manual and its page. */
  readonly source: string;
  readonly torques: readonly Torque[];
}

/** Lifts above this are none of a unit pump's, in either unit. */
const MOST: Readonly<Record<LengthUnit, number>> = { in: 2, mm: 50 };
const MOST_PUMPS = 16;

/** Reads the form of an engine. `content` holds only where there are no problems. */
export function readEngine(values: Values): {
  readonly content: ShopEngineContent;
  readonly problems: Problems;
} {
  const problems: Problems = {};
  const words = (name: string, most: number, missing: string): string => {
    const text = (values[name] ?? '').trim();
    if (text === '' && missing !== '') problems[name] = missing;
    else if (text.length > most) problems[name] = `Write at most ${most} letters.`;
    return text;
  };
  const unit: LengthUnit = values.unit === 'mm' ? 'mm' : 'in';
  const length = (name: string): number | null => {
    const read = parseLength(values[name] ?? '', unit, MOST[unit]);
    if (read.ok && (read.value === null || read.value > 0)) return read.value;
    problems[name] =
      `Write a length in ${unit === 'in' ? 'inches, for example 0.214' : 'millimetres, for example 5.44'}, or leave it blank.`;
    return null;
  };
  const pumps = /^\d{1,2}$/.test((values.pumps ?? '').trim()) ? Number(values.pumps) : 0;
  if (pumps < 1 || pumps > MOST_PUMPS) problems.pumps = `Write a whole number from 1 to ${MOST_PUMPS}.`;
  const [nominal, lower, upper] = [length('nominal'), length('lower'), length('upper')];
  if (lower !== null && upper !== null && lower >= upper)
    problems.upper ??= 'The upper limit must lie above the lower one.';
  else if (lower === null && upper === null) problems.lower ??= 'Write at least one limit.';
  return {
    content: {
      name: words('name', 80, 'Write what the engine is called here.'),
      number: words('number', 40, 'Write the number it goes by in the shop.'),
      ...{ pumps, unit, nominal, lower, upper },
      firingOrder: readFiringOrder(values.firingOrder ?? '', pumps, problems),
      barring: words('barring', 120, 'Write which way it is barred, seen from where.'),
      source: words('source', 160, 'Write the manual and its page.'),
      torques: readTorques(values.torques ?? '', problems),
    },
    problems,
  };
}

function readFiringOrder(text: string, pumps: number, problems: Problems): readonly number[] {
  const order = text
    .split(/[\s,;–-]+/)
    .filter((part) => part !== '')
    .map(Number);
  if (order.length === 0) return [];
  const each = [...order].sort((one, other) => one - other);
  if (order.length !== pumps || each.some((cylinder, index) => cylinder !== index + 1))
    problems.firingOrder = `Name each cylinder from 1 to ${pumps || 'the last'} once, for example 1-5-3-6-2-4; or leave it blank.`;
  return order;
}

const TORQUE = /^(.{1,80}?)\s*[:=]\s*(\d{1,4}(?:[.,]\d{1,2})?)\s*(lbf[·. *-]?ft|ft[·. *-]?lbf?|n[·. *-]?m)$/i;

function readTorques(text: string, problems: Problems): readonly Torque[] {
  const lines = text
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '');
  if (lines.length > 20) problems.torques = 'Write at most 20 lines.';
  return lines.slice(0, 20).flatMap((line, index): Torque[] => {
    const [, what, value = '', unit = ''] = TORQUE.exec(line) ?? [];
    if (what === undefined) {
      problems.torques ??= `Line ${index + 1} is not like “pump bolts: 35 lbf·ft”.`;
      return [];
    }
    return [{ what, value: Number(value.replace(',', '.')), unit: /^n/i.test(unit) ? 'N·m' : 'lbf·ft' }];
  });
}

/** An engine as its form shows it. */
export function engineValues(content: ShopEngineContent): Values {
  const shown = (length: number | null) => (length === null ? '' : String(length));
  return {
    name: content.name,
    number: content.number,
    pumps: String(content.pumps),
    firingOrder: content.firingOrder.join('-'),
    barring: content.barring,
    unit: content.unit,
    nominal: shown(content.nominal),
    lower: shown(content.lower),
    upper: shown(content.upper),
    source: content.source,
    torques: content.torques.map(({ what, value, unit }) => `${what}: ${value} ${unit}`).join('\n'),
  };
}
