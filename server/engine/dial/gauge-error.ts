import { clamp } from '../angles.ts';
import type { Chance } from '../random.ts';
import { findIndicatorLimits } from '../uncertainty/indicator-limits.ts';
import { toMm } from '../units.ts';
import type { Dial } from './dial.ts';

/**
 * What a dial indicator adds to the place of its plunger: a short wave once a turn of the pointer (a pinion not quite round), a slow one
 * over the travel (the rack), and hysteresis, by which it shows less going in than coming back. Lengths in millimetres.
 */
export interface GaugeError {
  readonly waveMm: number;
  readonly wavePhase: number;
  readonly slowMm: number;
  readonly slowPhase: number;
  /** Slow waves over the whole travel. */
  readonly slowCycles: number;
  /** Full width: going in less coming back at one place. */
  readonly hysteresisMm: number;
}

/** A gauge without errors of its own. */
export const PERFECT_GAUGE: GaugeError = {
  ...{ waveMm: 0, wavePhase: 0, slowMm: 0, slowPhase: 0, slowCycles: 1, hysteresisMm: 0 },
};

/**
 * Scatter of one gauge about one place, standard deviation in graduations; the seed's normal is cut at 2.5 of these, so that five
 * readings lie within 0.3 graduation (JIS B 7503: 3 µm for 0.01 mm; ASME B89.1.10M line: ±1/5 graduation).
 */
export const REPEAT_GRADUATIONS = 0.06;

/** The gauge stays inside its limits with this much of them unused. */
const USED = 0.95;

/** Either wave of a millimetre gauge, where its row of the standard leaves room for so much. */
const METRIC_MOST_MM = 0.004;

/** Over so many turns the spread of the errors, both ways, stays within so many millimetres. */
interface SpanLimit {
  readonly turns: number;
  readonly limitMm: number;
}

/**
 * Draws a gauge inside its standard's limits. Millimetre gauges: the row of JIS B 7503 for their graduation and travel. Inch gauges: the
 * whole of the errors within one graduation over any 2½ turns (AGD, ASME B89.1.10M line: ±1 graduation), waves of at most 0.3
 * and 0.4 graduation and a hysteresis of at most 0.2 (from memory, so kept well small).
 */
export function drawGaugeError(dial: Dial, chance: Chance): GaugeError {
  const graduationMm = toMm(dial.graduation, dial.unit);
  const turns = dial.travel / dial.rangePerTurn;
  const inch = dial.unit === 'in';
  const { hysteresisMost, spans } = limitsOf(dial, graduationMm, turns);
  const hysteresisMm = chance.uniform(0.4, 0.85) * hysteresisMost;
  const slowCycles = chance.uniform(0.6, 1.2);
  const slowShare = (span: number) => 2 * Math.sin(Math.PI * Math.min(0.5, (slowCycles * span) / turns));
  const waveShare = (span: number) => 2 * Math.sin(Math.PI * Math.min(0.5, span));
  const left = ({ limitMm }: SpanLimit) => USED * limitMm - hysteresisMm;
  const slowMost = Math.min(
    inch ? 0.4 * graduationMm : METRIC_MOST_MM,
    ...spans.map((span) => (0.5 * left(span)) / slowShare(span.turns)),
  );
  const slowMm = chance.uniform(0.3, 1) * slowMost;
  const waveMost = Math.min(
    inch ? 0.3 * graduationMm : METRIC_MOST_MM,
    ...spans.map((span) => (left(span) - slowMm * slowShare(span.turns)) / waveShare(span.turns)),
  );
  const waveMm = chance.uniform(0.3, 1) * waveMost;
  const phase = () => chance.uniform(0, 2 * Math.PI);
  return { waveMm, wavePhase: phase(), slowMm, slowPhase: phase(), slowCycles, hysteresisMm };
}

function limitsOf(dial: Dial, graduationMm: number, turns: number) {
  const row = dial.unit === 'mm' ? findIndicatorLimits(dial.graduation, dial.travel) : undefined;
  if (row === undefined)
    return { hysteresisMost: 0.2 * graduationMm, spans: [{ turns: 2.5, limitMm: graduationMm }] };
  const spans: SpanLimit[] = [
    { turns: 0.1, limitMm: row.tenthTurnUm / 1000 },
    { turns: 0.5, limitMm: row.halfTurnUm / 1000 },
    { turns: 1, limitMm: row.oneTurnUm / 1000 },
    { turns, limitMm: row.wholeRangeUm / 1000 },
  ];
  return { hysteresisMost: row.retraceUm / 1000, spans };
}

/** The play operator: where the works of the gauge stand when the plunger comes to `plungerMm` from where they stood before. */
export function playAt(error: GaugeError, beforeMm: number, plungerMm: number): number {
  const half = error.hysteresisMm / 2;
  return clamp(beforeMm, plungerMm - half, plungerMm + half);
}

/** What the gauge shows with its works at `worksMm`, millimetres of travel: any place from 0 to the whole travel. */
export function shownMm(error: GaugeError, dial: Dial, worksMm: number): number {
  const { waveMm, wavePhase, slowMm, slowPhase, slowCycles } = error;
  if (waveMm === 0 && slowMm === 0) return worksMm;
  const turn = worksMm / toMm(dial.rangePerTurn, dial.unit);
  const share = (slowCycles * turn * dial.rangePerTurn) / dial.travel;
  return (
    worksMm +
    waveMm * Math.sin(2 * Math.PI * turn + wavePhase) +
    slowMm * Math.sin(2 * Math.PI * share + slowPhase)
  );
}

/** The most a difference of two readings, one going in and one coming back or not, can be wrong by; millimetres. */
export function mostErrorMm({ waveMm, slowMm, hysteresisMm }: GaugeError): number {
  return 2 * (waveMm + slowMm) + hysteresisMm;
}
