import type { KindName } from '../engine/index.ts';
import type { SpotKind } from './short-words.ts';

/** The lesson of each kind of work, for what belongs to that work alone. */
const OF_KIND: Readonly<Record<KindName, string>> = {
  'cam-lift': 'measuring-injection-cam-lift',
  'run-out': 'run-out',
  'end-play': 'end-play',
  backlash: 'backlash',
  'liner-protrusion': 'liner-protrusion',
  'torque-adapter': 'putting-it-together',
  'dial-reading': 'graduations-and-turns',
  'fault-finding': 'finding-a-set-up-fault',
  'bore-gauge': 'measuring-bores',
  'indicator-check': 'checking-an-indicator',
  'valve-lift': 'valve-lift',
  'lift-curve': 'plotting-a-lobe',
};

/** Codes that one lesson treats whatever the work is; the first that fits counts. */
const ANYWHERE: readonly (readonly [RegExp, string])[] = [
  [
    /^(tip|preload|little-preload|travel|no-travel|stand-|rod-|bezel|base-not-wiped|not-lined-up|indicator-leans|no-set-up|nothing-set-up)/,
    'holding-and-setting-up',
  ],
  [/^(gauge-)/, 'the-dial-indicator'],
  [/^(roller|slot-off-pin|tappet-hung)/, 'taking-out-and-laying-out'],
  [/^(specification)/, 'reading-a-specification'],
  [
    /(verdict|^next|^no-next|next-is-better|condemned|replaced|returned|limit-side|bad-lobe|bad-part|below-the-others)/,
    'judging-a-reading',
  ],
  [/^(reading-off|drill-off|return-misread)/, 'graduations-and-turns'],
  [/^(readings-disagree|zero-not-back)/, 'when-a-reading-does-not-repeat'],
];
/** What only the engine with a camshaft has. */
const ON_A_LOBE: readonly (readonly [RegExp, string])[] = [
  [
    /^(zero-off-base-circle|zero-off-the-base-circle|not-back-on-base-circle|backed-up|not-zeroed|lobe-never)/,
    'finding-the-base-circle',
  ],
];
/** Mistakes of reading a dial, whatever the work is. */
const READING =
  /^(missed-turn|extra-turn|remainder-only|counter-from-zero|up-and-down|wrong-way|neighbouring-numeral|digits-swapped|graduation-value|inch-millimetre|decimal-place|arithmetic|sign-turned|unexplained|whole-turn-error|units-mixed)$/;

/** The slug of the lesson to teach again. */
export function lessonFor(spot: {
  readonly kind: SpotKind;
  readonly code: string;
  readonly work: KindName;
}): string {
  const { kind, code, work } = spot;
  if (kind !== 'remark' && READING.test(code) && work !== 'torque-adapter') return 'graduations-and-turns';
  if (work === 'torque-adapter' && !/verdict|next/.test(code)) return OF_KIND[work];
  const fits = ([pattern]: readonly [RegExp, string]) => pattern.test(code);
  return (ON_A_LOBE.find(fits) ?? ANYWHERE.find(fits))?.[1] ?? OF_KIND[work];
}
