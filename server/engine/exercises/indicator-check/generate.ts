import { drawGauge } from '../../bench-parts/limits.ts';
import type { Dial } from '../../dial/dial.ts';
import { type GaugeError, shownMm } from '../../dial/gauge-error.ts';
import { type Chance, chanceFor } from '../../random.ts';
import { findIndicatorLimits } from '../../uncertainty/indicator-limits.ts';
import { fromMm, toMm } from '../../units.ts';
import { FIGURES, indicatorFigures } from './figures.ts';
import { planFor } from './plan.ts';
import type {
  Figures,
  IndicatorCheckBench,
  IndicatorCheckDefinition,
  IndicatorCheckLimits,
  IndicatorFault,
  StickyPlace,
} from './types.ts';
import { stuckAt } from './work.ts';

/**
 * Graduations that every figure keeps from its limit. A gauge is read to a tenth of a graduation here, not to a whole one: a reading is
 * within 0.05 by rounding and 0.04 by scatter, so a figure, which is a difference of two, is within 0.18. Two steps of a tenth cover it.
 */
export const CHECK_MARGIN_GRADUATIONS = 0.2;
/** A hair more, for preloads between those that are tried. */
const KEPT = CHECK_MARGIN_GRADUATIONS + 0.02;
/** Preloads, in turns, with which a careful student may start, far ones first; the figures must call for one verdict with all. */
const PRELOADS = Array.from({ length: 36 }, (_, n) => 0.15 + 0.02 * ((7 * n) % 36));
const TRIES = 400;

/** What of a gauge there is to draw. */
interface Drawn {
  readonly error: GaugeError;
  readonly sticky: StickyPlace | null;
}

/**
 * Draws an indicator with its errors. Each figure keeps 0.2 graduation from its limit over the whole plan, whatever the preload.
 * @throws RangeError for an unknown dial or level, limits that are not above 0, none for this gauge, or a dial too coarse for them.
 */
export function generateIndicatorCheck(
  definition: IndicatorCheckDefinition,
  seed: string | number,
): IndicatorCheckBench {
  const text = String(seed);
  const usual = { dial: 'metric-0.01-10', name: 'Practice indicator' } as const;
  const gauge = drawGauge(definition, text, usual);
  const level = definition.level ?? 2;
  const limits = definition.limits ?? limitsOf(gauge.dial);
  if (!FIGURES.every((name) => limits[name] > 0 && Number.isFinite(limits[name])))
    throw new RangeError('Each limit must be above 0.');
  const plan = planFor(gauge.dial, definition.plan ?? 'short');
  const fault = drawFault(level, chanceFor(text, 'fault'));
  const drawn = drawClear(gauge.dial, limits, plan, fault, chanceFor(text, 'errors'));
  return {
    ...gauge,
    kind: 'indicator-check',
    limits,
    plan,
    ...drawn,
    badBlocks: level === 3 ? drawBlocks(gauge.dial, plan, text) : [],
    truly: fault === 'sound' ? 'inside' : 'above',
  };
}

function limitsOf(dial: Dial): IndicatorCheckLimits {
  const row = dial.unit === 'mm' ? findIndicatorLimits(dial.graduation, dial.travel) : undefined;
  if (row === undefined)
    throw new RangeError('The table of the standard has no row for this gauge. Give the limits.');
  return {
    unit: 'mm',
    wholeRange: row.wholeRangeUm / 1000,
    oneTurn: row.oneTurnUm / 1000,
    adjacent: row.tenthTurnUm / 1000,
    hysteresis: row.retraceUm / 1000,
    repeatability: row.repeatabilityUm / 1000,
  };
}

/** 45 % sound, the others even. Common practice, no source. */
function drawFault(level: number, chance: Chance): IndicatorFault {
  const sound = chance.chance(0.45);
  const bad = chance.pick(['slow', 'periodic', 'hysteresis', 'sticky'] as const);
  return level === 1 || sound ? 'sound' : bad;
}

function drawBlocks(dial: Dial, plan: readonly number[], seed: string): IndicatorCheckBench['badBlocks'] {
  const graduationMm = toMm(dial.graduation, dial.unit);
  const order = chanceFor(seed, 'which-blocks').shuffle(plan.slice(1));
  return (['grit', 'burr'] as const).flatMap((why, index) => {
    const chance = chanceFor(seed, why);
    const travel = order[index];
    const high = chance.uniform(0.6, 2.5);
    return travel !== undefined && chance.chance(0.75) ? [{ travel, highMm: high * graduationMm, why }] : [];
  });
}

/**
 * Draws until every figure is clear of its limit, on the side the fault asks for. Where a gauge leaves no room for that fault it has too
 * much hysteresis instead, which every gauge can have.
 */
function drawClear(
  dial: Dial,
  limits: IndicatorCheckLimits,
  plan: readonly number[],
  fault: IndicatorFault,
  chance: Chance,
): Drawn & { readonly fault: IndicatorFault } {
  const graduationMm = toMm(dial.graduation, dial.unit);
  const inGraduations = (name: keyof Figures) => toMm(limits[name], limits.unit) / graduationMm;
  const most = Object.fromEntries(FIGURES.map((name) => [name, inGraduations(name)])) as unknown as Figures;
  const tries = FIGURES.every((name) => most[name] > KEPT) ? 2 * TRIES : 0;
  for (let tried = 0; tried < tries; tried += 1) {
    const now = tried < TRIES || fault === 'sound' ? fault : 'hysteresis';
    const drawn = { fault: now, ...drawOnce(dial, most, plan.at(-1) ?? 0, now, chance) };
    if (isClear(dial, drawn, plan, most, now !== 'sound')) return drawn;
  }
  throw new RangeError(
    `A graduation of ${dial.graduation} ${dial.unit} is too coarse for these limits. Choose a finer gauge.`,
  );
}

/** One try, amplitudes in shares of the room that the limits (in graduations) leave. */
function drawOnce(dial: Dial, most: Figures, last: number, fault: IndicatorFault, chance: Chance): Drawn {
  const graduationMm = toMm(dial.graduation, dial.unit);
  const small = () => chance.uniform(0.1, 0.85);
  const large = () => chance.uniform(1.05, 1.7);
  const hysteresis =
    fault === 'hysteresis' ? large() * (most.hysteresis + KEPT) : small() * (most.hysteresis - KEPT);
  const wave =
    fault === 'periodic'
      ? large() * Math.max((most.oneTurn + KEPT) / 2, (most.adjacent + KEPT) / TENTH_OF_A_WAVE)
      : small() * Math.min((most.oneTurn - KEPT) / 2, (most.adjacent - KEPT) / TENTH_OF_A_WAVE);
  const slow =
    fault === 'slow'
      ? (large() * (most.wholeRange + KEPT)) / 2
      : small() * Math.max(0, (most.wholeRange - KEPT) / 2 - (fault === 'periodic' ? 0 : wave));
  const phase = () => chance.uniform(0, 2 * Math.PI);
  const lastTurn = last / dial.rangePerTurn;
  const turnMm = toMm(dial.rangePerTurn, dial.unit);
  const fromMm = chance.uniform(1, Math.max(1.001, lastTurn - 1)) * turnMm;
  // The play starts and ends between two neighbours, where half of it is a step: under that limit, or well over it.
  const least = chance.pick([most.hysteresis + KEPT, 2 * (most.adjacent + KEPT)]);
  const widthMm = large() * Math.max(least, most.hysteresis + KEPT) * graduationMm;
  return {
    error: {
      waveMm: wave * graduationMm,
      wavePhase: phase(),
      slowMm: slow * graduationMm,
      slowPhase: phase(),
      slowCycles: chance.uniform(0.6, 1.1),
      hysteresisMm: hysteresis * graduationMm,
    },
    // A turn wide and a little more: some point of the plan lies in it, whatever the preload.
    sticky: fault === 'sticky' ? { fromMm, toMm: fromMm + 1.05 * turnMm, widthMm } : null,
  };
}

/** The largest step of a wave of amplitude 1 over a tenth of its length. */
const TENTH_OF_A_WAVE = 2 * Math.sin(0.1 * Math.PI);

function isClear(
  dial: Dial,
  drawn: Drawn,
  plan: readonly number[],
  most: Figures,
  wantedBad: boolean,
): boolean {
  return PRELOADS.every((preload) => {
    const figures = trueFigures(dial, drawn, plan, preload * dial.rangePerTurn);
    const off = FIGURES.slice(0, 4).map((name) => (figures[name] ?? 0) / dial.graduation - most[name]);
    return off.every((one) => Math.abs(one) >= KEPT) && off.some((one) => one > 0) === wantedBad;
  });
}

/** What the plan brings out of an indicator without any scatter, set down with so much preload; all in the dial's unit. */
export function trueFigures(dial: Dial, { error, sticky }: Drawn, plan: readonly number[], preload: number) {
  const shown = (at: number, way: 1 | -1) => {
    const plungerMm = toMm(preload + at, dial.unit);
    const play = error.hysteresisMm + stuckAt(sticky, plungerMm);
    return fromMm(shownMm(error, dial, plungerMm - (way * play) / 2), dial.unit);
  };
  const zero = shown(0, 1);
  const points = plan.map((at) => ({ at, up: shown(at, 1) - zero, down: shown(at, -1) - zero }));
  return indicatorFigures(points, [], dial);
}
