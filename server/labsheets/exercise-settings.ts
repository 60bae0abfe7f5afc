import {
  type AnyDefinition,
  DIALS,
  generateBench,
  KIND_NAMES,
  type KindName,
  parseLength,
} from '../engine/index.ts';
import type { Problems, Values } from '../web/forms.ts';

/** A setting of an exercise as it stands on the page where a sheet is written. */
export interface SettingField {
  readonly name: string;
  readonly label: string;
  readonly type: 'text' | 'select' | 'checkbox';
  readonly hint?: string;
  readonly options?: readonly { readonly value: string; readonly text: string }[];
}

const LEVEL: SettingField = {
  name: 'level',
  label: 'Level',
  type: 'select',
  options: [
    { value: '1', text: '1: plain, nothing hidden in the set-up' },
    { value: '2', text: '2: as in the shop' },
    { value: '3', text: '3: hard' },
  ],
};
const NAME: SettingField = {
  name: 'name',
  label: 'Name on the plate',
  type: 'text',
  hint: 'Invented; may stay blank.',
};
const DIAL: SettingField = {
  name: 'dial',
  label: 'Indicator',
  type: 'select',
  options: [
    { value: '', text: 'as the exercise has it' },
    ...Object.keys(DIALS).map((name) => ({ value: name, text: dialWords(name) })),
  ],
};
const CYLINDERS: SettingField = {
  name: 'cylinders',
  label: 'Cylinders',
  type: 'select',
  options: [
    { value: '6', text: '6' },
    { value: '4', text: '4' },
  ],
};
const LIMITS: readonly SettingField[] = [
  {
    name: 'unit',
    label: 'Limits in',
    type: 'select',
    options: [
      { value: 'in', text: 'in' },
      { value: 'mm', text: 'mm' },
    ],
  },
  {
    name: 'lower',
    label: 'Lower limit',
    type: 'text',
    hint: 'Blank leaves that side open. Both blank: drawn for each student.',
  },
  { name: 'upper', label: 'Upper limit', type: 'text' },
];
const NOMINAL: SettingField = {
  name: 'nominal',
  label: 'Nominal lift',
  type: 'text',
  hint: 'Needed where a limit is given.',
};

const choice = (name: string, label: string, texts: Readonly<Record<string, string>>): SettingField => ({
  name,
  label,
  type: 'select',
  options: Object.entries(texts).map(([value, text]) => ({ value, text })),
});
const tick = (name: string, label: string): SettingField => ({ name, label, type: 'checkbox' });

/** What can be set for each kind. A kind's other settings stay as they stand in the definition. */
const FIELDS: Readonly<Record<KindName, readonly SettingField[]>> = {
  'cam-lift': [
    NAME,
    LEVEL,
    CYLINDERS,
    {
      name: 'positions',
      label: 'Pump positions to measure',
      type: 'text',
      hint: 'How many, drawn for each student.',
    },
    DIAL,
    NOMINAL,
    ...LIMITS,
    tick('chooseGauge', 'The gauge is chosen from a tray'),
    tick('chooseRod', 'The rod is chosen'),
    tick('lookUp', 'The specification is looked up'),
    tick('guarded', 'Judged with a guard band: “too close to call” is an answer'),
    tick('fullCycle', 'Every reading needs 720° of barring'),
    tick('rollerVerdict', 'The roller is looked at and judged'),
    tick('certificate', 'The gauge comes with its certificate'),
  ],
  'run-out': [
    NAME,
    LEVEL,
    choice('subject', 'Of', { shaft: 'a crankshaft', housing: 'a flywheel housing' }),
    DIAL,
    ...LIMITS,
  ],
  'end-play': [
    NAME,
    LEVEL,
    choice('subject', 'Of', { crankshaft: 'a crankshaft', 'wheel-bearing': 'a wheel bearing' }),
    DIAL,
    ...LIMITS,
  ],
  backlash: [NAME, LEVEL, DIAL, ...LIMITS],
  'liner-protrusion': [
    NAME,
    LEVEL,
    { name: 'liners', label: 'Liners', type: 'text', hint: '2 to 6' },
    DIAL,
    ...LIMITS,
  ],
  'bore-gauge': [NAME, LEVEL],
  'valve-lift': [NAME, LEVEL, CYLINDERS],
  'indicator-check': [
    NAME,
    LEVEL,
    DIAL,
    choice('plan', 'Points', { short: 'a short plan', whole: 'the whole plan' }),
  ],
  'torque-adapter': [NAME, LEVEL],
  'dial-reading': [NAME, LEVEL, { name: 'drills', label: 'Dials', type: 'text', hint: '1 to 20' }, DIAL],
  'fault-finding': [NAME, LEVEL, DIAL],
  'lift-curve': [NAME, LEVEL, DIAL, ...LIMITS],
};

/** Numbers of things to be measured or read: from, to. There are never more positions than cylinders. */
const WHOLE: Readonly<Record<string, readonly [number, number]>> = {
  positions: [1, 6],
  liners: [2, 6],
  drills: [1, 20],
};
const SEEDS = ['look-1', 'look-2', 'look-3'];
/** Lengths above this are no limits of anything that is measured here. */
const MOST = { in: 4, mm: 100 } as const;

export function settingFields(kind: KindName): readonly SettingField[] {
  return FIELDS[kind];
}

export function isKindName(text: string): text is KindName {
  return (KIND_NAMES as readonly string[]).includes(text);
}

/** A definition as its settings are shown. */
export function settingsOf(definition: AnyDefinition): Values {
  const held = definition as unknown as Readonly<Record<string, unknown>>;
  const specification = (held.specification ?? {}) as Readonly<Record<string, unknown>>;
  const values: Values = {};
  for (const { name, type } of settingFields(definition.kind)) {
    const value = isLimit(name)
      ? specification[name]
      : name === 'name'
        ? (held.name ?? held.engineName)
        : name === 'guarded'
          ? held.decision === 'guarded'
          : name === 'level'
            ? (held.level ?? 2)
            : held[name];
    if (type === 'checkbox') {
      if (value === true) values[name] = 'on';
    } else if (typeof value === 'number' || typeof value === 'string') values[name] = String(value);
  }
  return values;
}

/**
 * The definition that settings describe, and what is wrong with them. What `base` holds besides stays. It is drawn a few times to see that
 * the exercise can be: what the engine says against it is said of the settings as a whole, under `name`.
 */
export function definitionFrom(
  kind: KindName,
  values: Values,
  base: AnyDefinition | null,
): { readonly definition: AnyDefinition; readonly problems: Problems } {
  const problems: Problems = {};
  const made: Record<string, unknown> = { ...(base ?? {}), kind, version: 1 };
  for (const { name, type } of settingFields(kind)) {
    const text = (values[name] ?? '').trim();
    if (isLimit(name)) continue;
    if (name === 'guarded') put(made, 'decision', text === 'on' ? 'guarded' : undefined);
    else if (name === 'name')
      put(made, kind === 'cam-lift' || kind === 'fault-finding' ? 'engineName' : 'name', text || undefined);
    else if (type === 'checkbox') put(made, name, text === 'on' || undefined);
    else if (name === 'level' || name === 'cylinders') put(made, name, Number(text) || undefined);
    else if (WHOLE[name] !== undefined) {
      // A list of positions that a definition came with is shown as nothing, and stays.
      if (text === '') continue;
      const [least, most] = WHOLE[name];
      const top = name === 'positions' ? Math.min(most, Number(values.cylinders) || most) : most;
      const count = /^\d{1,2}$/.test(text) ? Number(text) : 0;
      if (count < least || count > top) problems[name] = `Write a whole number from ${least} to ${top}.`;
      else put(made, name, count);
    } else put(made, name, text || undefined);
  }
  if (settingFields(kind).some(({ name }) => name === 'lower')) readLimits(made, values, problems);
  if (Object.keys(problems).length === 0) {
    const refused = whyNotDrawn(made as unknown as AnyDefinition);
    if (refused !== null) problems.name = refused;
  }
  return { definition: made as unknown as AnyDefinition, problems };
}

function readLimits(made: Record<string, unknown>, values: Values, problems: Problems): void {
  const unit = values.unit === 'mm' ? 'mm' : 'in';
  const read = (name: string): number | null => {
    const parsed = parseLength(values[name] ?? '', unit, MOST[unit]);
    if (parsed.ok) return parsed.value;
    problems[name] =
      `Write a length in ${unit === 'in' ? 'inches, for example 0.237' : 'millimetres, for example 6.02'}, or leave it blank.`;
    return null;
  };
  const [lower, upper, nominal] = [read('lower'), read('upper'), read('nominal')];
  if (lower === null && upper === null && nominal === null) {
    put(made, 'specification', undefined);
    return;
  }
  if (lower !== null && upper !== null && lower >= upper)
    problems.upper = 'The upper limit must lie above the lower one.';
  const needsNominal = settingFields(made.kind as KindName).some(({ name }) => name === 'nominal');
  if (needsNominal && nominal === null) problems.nominal = 'Write the nominal lift these limits belong to.';
  put(made, 'specification', { unit, ...(needsNominal ? { nominal } : {}), lower, upper });
}

function whyNotDrawn(definition: AnyDefinition): string | null {
  try {
    for (const seed of SEEDS) generateBench(definition, seed);
    return null;
  } catch (error) {
    if (error instanceof RangeError) return `Such an exercise cannot be made: ${error.message}`;
    throw error;
  }
}

function isLimit(name: string): boolean {
  return ['unit', 'lower', 'upper', 'nominal'].includes(name);
}

function put(made: Record<string, unknown>, name: string, value: unknown): void {
  if (value === undefined) delete made[name];
  else made[name] = value;
}

/** `inch-0.001-1-balanced`: 0.001 in, travel 1 in, balanced. */
function dialWords(name: string): string {
  const [system = '', graduation = '', travel = '', ...rest] = name.split('-');
  const unit = system === 'inch' ? 'in' : 'mm';
  const more = rest.join(' ');
  return `${graduation} ${unit}, travel ${travel} ${unit}${more === '' ? '' : `, ${more === 'backwards' || more === 'no counter' ? `small hand: ${more === 'backwards' ? 'backwards' : 'none'}` : more}`}`;
}
