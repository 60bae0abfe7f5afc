import { graduationMm } from '../../bench-parts/gauge.ts';
import type { ItemEvidence, Result } from '../../bench-parts/grade.ts';
import { verdictIn } from '../../bench-parts/limits.ts';
import { graduationsPerTurn } from '../../dial/dial.ts';
import { extremes } from '../../lobe/lift-curve.ts';
import { type Lengths, likelyLengths, type ReadValve, ratioFrom } from './diagnose.ts';
import { type Measured, movementOf } from './measured.ts';
import { valveLift } from './train.ts';
import {
  limitsOf,
  PLACES,
  type ValveAction,
  type ValveBench,
  type ValvePlace,
  type ValveState,
  type ValveTruth,
  type WrittenValve,
} from './types.ts';

/** A valve of the sheet with all that was measured of it. */
export interface ValveItem {
  readonly item: number;
  readonly truth: ValveTruth;
  readonly written: WrittenValve;
  /** What is written, in graduations and without a sign, by where it is measured. */
  readonly lengths: Lengths;
  readonly measured: Readonly<Record<ValvePlace, Measured>>;
}

/** Boxes by where they are measured, and their shares of the reading points. Common practice, no source. */
const BOXES: Readonly<Record<ValvePlace, { readonly name: string; readonly share: number }>> = {
  pushrod: { name: 'lobe-lift', share: 0.25 },
  retainer: { name: 'valve-lift', share: 0.35 },
  rocker: { name: 'lash', share: 0.2 },
};
const RATIO_SHARE = 0.2;

export function lengthsOf({ dial }: ValveBench, written: WrittenValve): Lengths {
  const size = (length: number | null) => (length === null ? null : Math.abs(length) / dial.graduation);
  return {
    pushrod: size(written.lobeLift),
    retainer: size(written.valveLift),
    rocker: size(written.lash),
  };
}

function readOf({ lengths, measured }: ValveItem): ReadValve {
  const shown = Object.fromEntries(PLACES.map((place) => [place, measured[place].shown]));
  return { written: lengths, shown: shown as Record<ValvePlace, number | null> };
}

/** The verdict a valve lift in graduations calls for; null for none. */
export function verdictOn(bench: ValveBench, { truth }: ValveItem, graduations: number | null) {
  if (graduations === null) return null;
  return verdictIn(limitsOf(bench, truth.valve), graduations * bench.dial.graduation, bench.dial);
}

export function evidenceOf(
  bench: ValveBench,
  valve: ValveItem,
  all: readonly ValveItem[],
): ItemEvidence<ValveState, ValveAction> {
  const { item, truth, written, lengths, measured } = valve;
  const { shown } = measured.retainer;
  const own = graduationMm(bench);
  const lobeLiftMm = extremes(truth.lobe).highestMm;
  return {
    item,
    run: measured.retainer.run ?? measured.pushrod.run ?? measured.rocker.run,
    results: resultsOf(bench, valve, all),
    written: { verdict: written.verdict, next: written.next },
    fromWritten: verdictOn(bench, valve, lengths.retainer),
    fromShown: verdictOn(bench, valve, shown === null ? null : Math.round(shown)),
    truly: truth.truly,
    setUpsAgree: setUpsAgree(own, measured.retainer),
    truth: {
      'lobe-lift': lobeLiftMm / own,
      'valve-lift': valveLift(lobeLiftMm, truth.ratio, truth.lashMm) / own,
      lash: truth.lashMm / own,
      ratio: 100 * truth.ratio,
    },
  };
}

function resultsOf(bench: ValveBench, valve: ValveItem, all: readonly ValveItem[]): Result[] {
  const { written, lengths, measured } = valve;
  const others = all.filter((other) => other !== valve).map(readOf);
  const likely = likelyLengths(readOf(valve), others, graduationsPerTurn(bench.dial));
  const ratio = written.ratio === null ? null : 100 * written.ratio;
  const worked = ratioFrom(lengths, ratio);
  return [
    ...PLACES.map(
      (place): Result => ({
        ...BOXES[place],
        written: lengths[place],
        shown: measured[place].shown,
        from: 'gauge',
        likely: likely[place],
      }),
    ),
    {
      ...{ name: 'ratio', share: RATIO_SHARE, from: 'ratio' },
      ...{ written: ratio, shown: worked.right, likely: worked.likely },
    },
  ];
}

/** Two set-ups on the retainer agree within 0.001 in. Common practice, no source. */
function setUpsAgree(graduation: number, { zeros }: Measured): boolean {
  const within = 0.0254 / graduation + 1e-6;
  return zeros.some((a) =>
    zeros.some((b) => a.run.setUp < b.run.setUp && Math.abs(movementOf(a) - movementOf(b)) <= within),
  );
}
