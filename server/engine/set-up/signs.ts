import type { CamLiftBrief, Perception } from '../exercises/cam-lift/types.ts';
import { fromMm, toMm } from '../units.ts';
import type { Curve } from './curve.ts';
import type { SetUpFault } from './faults.ts';
import { measuredSigns } from './measured-signs.ts';
import { roundShifts, type SeenPass, suddenness } from './passes.ts';
import type { Glance, SeenRun, Sight } from './sight.ts';
import type { SignCode } from './sign-table.ts';

/** A sign that was looked for, and whether it was there. One that nobody looked for is left out: it says nothing either way. */
export interface Sign {
  readonly code: SignCode;
  readonly there: boolean;
  /** Index of the action in the log; null where it is not tied to one. */
  readonly at: number | null;
  /** How much, in graduations, degrees (a lean) or times (what was done so often); null where there is nothing to measure. */
  readonly value: number | null;
  /** Chances that hang on how often it was tried, in place of the table's. */
  readonly chances?: Readonly<Partial<Record<SetUpFault, number>>>;
}

/** A run with its curve and the lobe's risings in it. */
export interface RunCurve {
  readonly run: SeenRun;
  readonly curve: Curve;
  readonly passes: readonly SeenPass[];
}

/** A lift of the usual size, where the specification has not been looked up: only the scale of things is asked of it. */
const USUAL_LIFT_MM = 5;

/** Lift that the specification leads to expect, in graduations of the dial. */
export function expectedLift({ dial, specification }: CamLiftBrief): number {
  const liftMm = specification === null ? USUAL_LIFT_MM : toMm(specification.nominal, specification.unit);
  return liftMm / toMm(dial.graduation, dial.unit);
}

/** Everything looked for at one pump position, and what was found. */
export function signsOf(brief: CamLiftBrief, sight: Sight, runs: readonly RunCurve[]): Sign[] {
  const expected = expectedLift(brief);
  const counted = runs.filter(({ run }) => !isTrialRun(run, runs));
  const shown = counted.flatMap((one) => {
    const signs = [
      ...tipSigns(one.run),
      ...lobeSigns(one),
      ...standSigns(one),
      ...measuredSigns(one, expected),
    ];
    const setDownAt = one.run.glances[0]?.at ?? 0;
    const barredAt =
      one.run.glances.find(({ action }) => action.type === 'bar')?.at ?? Number.POSITIVE_INFINITY;
    return [
      ...withoutCured(signs, curedBefore(sight.glances, barredAt)),
      ...withoutCured(pressSigns(one), curedBefore(sight.glances, setDownAt)),
    ];
  });
  return [...tappetSigns(sight), ...lookSigns(sight.glances), ...gather(shown)];
}

/** Set down in the wrong place, the tip off the work, no zero ever taken, and set down anew: nothing was measured with it. */
function isTrialRun(run: SeenRun, runs: readonly RunCurve[]): boolean {
  const zeroed = ({ glances }: SeenRun) => saidIn(glances, 'bezel-at-zero') !== undefined;
  return !zeroed(run) && runs.some((other) => zeroed(other.run));
}

/** What had been set right, by what was felt, before an action: later signs say nothing of it either way. */
function curedBefore(glances: readonly Glance[], before: number): Set<SetUpFault> {
  const cured = new Set<SetUpFault>();
  for (const { at, action, said } of glances) {
    if (at >= before) break;
    if (action.type === 'press') cured.add('tappet-hung');
    for (const one of said) {
      if (one.code === 'metal-on-metal') cured.add('tappet-hung').add('slot-off-pin');
      if (one.code === 'dull-stop') cured.delete('tappet-hung');
      if (one.code === 'was-loose' || one.code === 'was-tight') cured.add(`${one.part}-loose`);
    }
  }
  return cured;
}

/** A tappet knocked home under the indicator leaves the tip hanging: these come of the cure. */
const COME_OF_THE_CURE: readonly SignCode[] = [
  'tip-left-the-work',
  'nothing-under-the-tip',
  'sets-off-suddenly',
];
const OF_THE_CURE = 0.3;

function withoutCured(signs: readonly Sign[], cured: ReadonlySet<SetUpFault>): Sign[] {
  const never = Object.fromEntries([...cured].map((fault) => [fault, 0]));
  return signs.map((one) => {
    const hung = cured.has('tappet-hung') && COME_OF_THE_CURE.includes(one.code);
    return { ...one, chances: { ...one.chances, ...never, ...(hung ? { 'tappet-hung': OF_THE_CURE } : {}) } };
  });
}

/** Of the same sign in several runs the one that was there, if it was: the largest. Chances are those of the run it is taken from. */
export function gather(signs: readonly Sign[]): Sign[] {
  const best = new Map<SignCode, Sign>();
  for (const sign of signs) {
    const known = best.get(sign.code);
    const larger = Math.abs(sign.value ?? 0) > Math.abs(known?.value ?? 0);
    if (known === undefined || (sign.there && !known.there) || (sign.there === known.there && larger))
      best.set(sign.code, sign);
  }
  return [...best.values()];
}

export function sign(code: SignCode, at: number | null, value: number | null = null): Sign {
  return { code, there: at !== null, at, value };
}

export function saidIn(glances: readonly Glance[], ...codes: Perception['code'][]): Glance | undefined {
  return glances.find(({ said }) => said.some(({ code }) => codes.includes(code)));
}

/** What was felt as the tappet went in. */
function tappetSigns({ glances }: Sight): Sign[] {
  const seats = glances.filter(({ action }) => action.type === 'seat');
  const turns = glances.filter(({ action }) => action.type === 'turn-tappet');
  return [
    ...(seats.length > 0
      ? [
          sign('dull-stop', saidIn(seats, 'dull-stop')?.at ?? null),
          sign('far-up', saidIn(seats, 'far-up')?.at ?? null),
        ]
      : []),
    ...(turns.length > 0 ? [sign('slot-was-off', saidIn(turns, 'slot-finds-pin')?.at ?? null)] : []),
  ];
}

/** Nobody sets an indicator quite square by eye: 2.5° at most is everywhere, and the eye is out by one at most. */
const LEANS_DEG = 5;

/** What was found by looking along the bore, and by tightening. */
function lookSigns(glances: readonly Glance[]): Sign[] {
  const looks = glances.filter(({ action }) => action.type === 'align' && action.square !== true);
  const leans = looks.flatMap(({ at, said }) =>
    said.flatMap((one) => (one.code === 'leans' ? [{ at, degrees: one.degrees }] : [])),
  );
  const most = leans.sort((a, b) => b.degrees - a.degrees)[0];
  const leaning = most !== undefined && most.degrees >= LEANS_DEG ? most : null;
  return [
    ...(looks.length > 0
      ? [
          sign('leans-seen', leaning?.at ?? null, most?.degrees ?? 0),
          sign('tip-seen-in-hole', saidIn(looks, 'tip-in-hole')?.at ?? null),
        ]
      : []),
    ...(['arm', 'base', 'rod'] as const).flatMap((part) => {
      const tried = glances.filter(({ said }) =>
        said.some((one) => (one.code === 'was-loose' || one.code === 'was-tight') && one.part === part),
      );
      return tried.length === 0 ? [] : [sign(`${part}-gave`, saidIn(tried, 'was-loose')?.at ?? null)];
    }),
  ];
}

/** A first lift also turns the play of the gauge's works round; those after it come back within a quarter of a graduation. */
const TIP_FIRST = 0.5;
const TIP_AGAIN = 0.27;
/** Shifts of a loose stand: half of the lifts shake it. A loose rod comes down elsewhere three times in four. */
const STAND_SHAKEN = 0.5;
const ROD_STAYS = 0.35;

/** Lifts of the tip that did not come back. Those after `tighten` say nothing of what was loose before it. */
function tipSigns({ glances }: SeenRun): Sign[] {
  const lifts = glances.flatMap((glance, index) => {
    const comesBack = glance.said.some(({ code }) => code === 'tip-comes-back');
    const afterLift = glances[index - 1]?.action.type === 'lift-tip';
    return comesBack ? [{ at: glance.at, moved: glance.moved, most: afterLift ? TIP_AGAIN : TIP_FIRST }] : [];
  });
  const firm = glances.findIndex(({ action }) => action.type === 'tighten');
  const before = firm < 0 ? lifts : lifts.filter(({ at }) => at < (glances[firm]?.at ?? 0));
  if (before.length === 0) return [];
  const off = before.filter(({ moved, most }) => Math.abs(moved) > most);
  const largest = off.sort((a, b) => Math.abs(b.moved) - Math.abs(a.moved))[0];
  const stand = 1 - STAND_SHAKEN ** before.length;
  const shifts: Sign = {
    ...sign('tip-shifts', largest?.at ?? null, largest?.moved ?? 0),
    chances: { 'arm-loose': stand, 'base-loose': stand, 'rod-loose': 1 - ROD_STAYS ** before.length },
  };
  if (off.length < 2) return [shifts];
  const ways = new Set(off.map(({ moved }) => Math.sign(moved)));
  // More at a time than any stand gives way by is as good as both ways.
  const rodLike = ways.size === 2 || Math.abs(largest?.moved ?? 0) > STAND_MOST;
  return [shifts, sign('tip-shifts-both-ways', rodLike ? (largest?.at ?? null) : null)];
}

/** Graduations a stand gives way by at most, at once. */
const STAND_MOST = 1.7;

/** A tappet sets off suddenly from this share of the fastest movement. */
const SUDDEN = 0.27;
/** Over the nose a pointer stands still for a moment; up there for this long it has not come down. */
const STAYS_WITHIN = 0.1;

function lobeSigns({ run, curve, passes }: RunCurve): Sign[] {
  const barredDeg = (curve.crankDeg.at(-1) ?? 0) - (curve.crankDeg[0] ?? 0);
  if (passes.length === 0) {
    if (barredDeg < 715) return [];
    return [sign('nothing-moves', run.points.at(-1)?.at ?? null)];
  }
  const [first] = passes;
  const sudden = first === undefined ? null : suddenness(curve, first);
  const pressed = run.glances.some(
    ({ at, action }) => action.type === 'press' && at < (curve.at[first?.foot ?? 0] ?? 0),
  );
  const up = passes.flatMap(({ foot, top, after }) => {
    if (after === null) return [];
    const at = curve.at[after] ?? 0;
    const fell = curve.smooth[top] ?? 0;
    const left = (curve.smooth[after] ?? 0) - (curve.smooth[foot] ?? 0);
    return [{ at, left, share: left / Math.max(1, fell - (curve.smooth[foot] ?? 0)) }];
  });
  const stays = up.find(({ left, share }) => left > 2 * RUN_OUT && share > STAYS_WITHIN);
  return [
    sign('nothing-moves', null),
    ...(sudden === null || (pressed && sudden <= SUDDEN)
      ? []
      : [
          {
            ...sign('sets-off-suddenly', sudden > SUDDEN ? (curve.at[first?.foot ?? 0] ?? null) : null),
            value: sudden,
          },
        ]),
    ...(up.length === 0 ? [] : [sign('stays-up', stays?.at ?? null, stays?.left ?? up[0]?.left ?? 0)]),
    sign('let-go-with-a-click', saidIn(run.glances, 'click')?.at ?? null),
    ...roundSigns(curve),
  ];
}

/** Graduations a base circle may run out by and still have a place that stands still. */
const RUN_OUT = 1.7;
/** The works' hysteresis and an eye: what a round of the cam may leave. */
const ROUND_WITHIN = 0.75;

function roundSigns(curve: Curve): Sign[] {
  const shifts = roundShifts(curve);
  if (shifts.length === 0) return [];
  const largest = [...shifts].sort((a, b) => Math.abs(b.graduations) - Math.abs(a.graduations))[0];
  const off = largest !== undefined && Math.abs(largest.graduations) > ROUND_WITHIN;
  return [sign('zero-moves-with-the-lobe', off ? largest.at : null, largest?.graduations ?? 0)];
}

/** Graduations: a press that moves the pointer by less moved nothing. */
const DROP = 2;

/** What pressing on the rod did, by when it was pressed. */
function pressSigns({ run, curve, passes }: RunCurve): Sign[] {
  const firstBar = run.glances.find(({ action }) => action.type === 'bar')?.at ?? Number.POSITIVE_INFINITY;
  const top = passes[0] === undefined ? Number.POSITIVE_INFINITY : (curve.at[passes[0].top] ?? 0);
  const presses = run.glances.filter(({ action }) => action.type === 'press');
  let lowest = 0;
  const found: Sign[] = [];
  for (const { at, said, moved, ends } of presses) {
    const drops = said.some(({ code }) => code === 'pointer-drops') && moved < -DROP;
    const here = curve.count[ends ?? 0] ?? 0;
    for (let n = 0; n < (ends ?? 0); n += 1)
      if ((curve.at[n] ?? 0) < at) lowest = Math.min(lowest, curve.count[n] ?? 0);
    const below = here < lowest - DROP;
    if (at < firstBar) found.push(sign('drops-before-barring', drops ? at : null, moved));
    else if (at <= top || (drops && below)) {
      if (drops || below || presses[0]?.at === at)
        found.push(sign('drops-lower-than-ever', drops && below ? at : null, moved));
    } else found.push(sign('drops-after-the-lobe', drops ? at : null, moved));
    lowest = Math.min(lowest, here);
  }
  return found;
}

/** A loose stand gives way at three compressions in five, and some of the steps are lost on a steep flank. */
const STEP_MISSED = 0.5;

function standSigns({ curve, run }: RunCurve): Sign[] {
  const firmAt = run.glances.filter(({ action }) => action.type === 'tighten').map(({ at }) => at);
  const humps = curve.humps;
  if (humps === 0 || firmAt.length > 0) return [];
  const moved = 1 - STEP_MISSED ** humps;
  const total = curve.steps.reduce((sum, { graduations }) => sum + graduations, 0);
  return [
    {
      ...sign('steps-at-compression', curve.steps[0]?.at ?? null, total),
      chances: { 'arm-loose': moved, 'base-loose': moved },
    },
  ];
}

/** A lobe this far from the mean of the others is worth a look. Inches; common practice, no source. */
const APART_IN = 0.003;

/** How the lift shown compares with what the same gauge showed of the other lobes. */
export function comparedSigns(brief: CamLiftBrief, own: number | null, others: readonly number[]): Sign[] {
  if (own === null || others.length === 0) return [];
  const { dial } = brief;
  const mean = others.reduce((sum, one) => sum + one, 0) / others.length;
  const apart = own - mean;
  const most = APART_IN / fromMm(toMm(dial.graduation, dial.unit), 'in');
  return [
    { code: 'low-against-the-others', there: apart < -most, at: null, value: apart },
    { code: 'high-against-the-others', there: apart > most, at: null, value: apart },
  ];
}
