import type { Problems, Values } from '../web/forms.ts';

/** One step of the work on a shop engine. */
export interface ShopStep {
  readonly text: string;
  /** Stop here until the assessor has seen it. */
  readonly hold: boolean;
  /** Must be done without a prompt; it may not stay unseen either. */
  readonly alone: boolean;
}

/** What is signed off on a shop engine, and when it is passed. */
export interface ShopWork {
  readonly kind: 'shop-engine';
  readonly version: 1;
  readonly steps: readonly ShopStep[];
  /** Most steps that may be done with a prompt. */
  readonly prompts: number;
  /** Most that the student's lift may lie from the reference. */
  readonly agreement: { readonly unit: 'in' | 'mm'; readonly value: number };
}

/** The usual order of work at a unit pump, with its hold points. Common practice, no source; the maker's manual comes first. */
const USUAL_STEPS: readonly string[] = [
  'A Glasses on, no rings or watch, sleeves close',
  'HA Power off and tagged, keys held, starting disabled, an air starter too',
  'HA Fuel shut, pressure bled, lines cracked slowly under a rag',
  'Place cleaned before opening, drip tray under it',
  'Barred until this lobe is on its base circle, pump spring eased',
  'Solenoid unplugged, power off',
  'Line off, both ends capped, tagged by position',
  'Bolts out evenly; pried on metal only, never on the solenoid',
  'Pump, any shim and tappet laid out in order, marked',
  'Roller looked at: colour, pits, flats, turns freely; written down',
  'Lobe and bore looked at, nothing dropped in, bore covered',
  'Tappet oiled, slot to pin, metal on metal',
  'Rod seated; pressed, and the pointer does not drop',
  'Right gauge, arm and base tight, in line with the bore',
  'Preload set, three lifts of the tip return',
  'HA Zero on the base circle, bezel clamped',
  'A Calls “barring” and waits; right way, at least 720°',
  'HA Turns counted aloud, high reading read with the assessor looking',
  'Return to zero written down',
  'Second reading, within 0.001 in of the first',
  'Lift, limits, verdict, what next and why',
  'Base circle again, new seals, pump drawn down evenly',
  'HA Torques and adapter setting written down, sequence kept',
  'Caps off, barring tool out, tools counted, tags off by their owner',
  'If it is run: primed, looked for leaks with a card, never a hand',
];

export const SHOP_WORK_DEFAULTS: Values = {
  title: 'Injection-cam lift on a shop engine',
  share: '0',
  steps: USUAL_STEPS.join('\n'),
  prompts: '2',
  agreement: '0.002',
  agreementUnit: 'in',
};

const MOST_STEPS = 60;

/** Steps as they are written, one a line: `H` before one stops there until it is seen, `A` asks for it alone. */
export function readShopWork(values: Values): { readonly definition: ShopWork; readonly problems: Problems } {
  const problems: Problems = {};
  const steps = (values.steps ?? '')
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '')
    .map((line): ShopStep => {
      const [, marks = '', text = line] = /^([HA]{1,2})\s+(.+)$/.exec(line) ?? [];
      return { text, hold: marks.includes('H'), alone: marks.includes('A') };
    });
  if (steps.length === 0 || steps.length > MOST_STEPS)
    problems.steps = `Write 1 to ${MOST_STEPS} steps, one a line.`;
  else if (steps.some(({ text }) => text.length > 200)) problems.steps = 'Keep each step to 200 letters.';
  const prompts = /^\d{1,2}$/.test((values.prompts ?? '').trim()) ? Number(values.prompts) : null;
  if (prompts === null) problems.prompts = 'Write a whole number, for example 2.';
  const unit = values.agreementUnit === 'mm' ? 'mm' : 'in';
  const written = (values.agreement ?? '').trim().replace(',', '.');
  const value = /^\d*\.?\d+$/.test(written) ? Number(written) : 0;
  if (value <= 0 || value > (unit === 'in' ? 0.05 : 1.3))
    problems.agreement = `Write a small length in ${unit === 'in' ? 'inches, for example 0.002' : 'millimetres, for example 0.05'}.`;
  return {
    definition: { kind: 'shop-engine', version: 1, steps, prompts: prompts ?? 0, agreement: { unit, value } },
    problems,
  };
}

/** A definition as it is written on the page. */
export function shopWorkValues(work: ShopWork): Values {
  return {
    steps: work.steps
      .map(({ text, hold, alone }) => {
        const marks = `${hold ? 'H' : ''}${alone ? 'A' : ''}`;
        return marks === '' ? text : `${marks} ${text}`;
      })
      .join('\n'),
    prompts: String(work.prompts),
    agreement: String(work.agreement.value),
    agreementUnit: work.agreement.unit,
  };
}
