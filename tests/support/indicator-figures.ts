import { shownMm } from '../../server/engine/dial/gauge-error.ts';
import { type BenchOf, convertLength, toMm } from '../../server/engine/index.ts';

type Bench = BenchOf<'indicator-check'>;

const spread = (values: readonly number[]) => Math.max(...values) - Math.min(...values);

/** Errors of an indicator over its plan without scatter, in graduations, worked out here from its parts for a preload in turns. */
export function trueErrors({ dial, plan, error, sticky }: Bench, preload: number) {
  const graduationMm = toMm(dial.graduation, dial.unit);
  const at = (travel: number, way: 1 | -1) => {
    const plunger = toMm(travel + preload * dial.rangePerTurn, dial.unit);
    const sticks = sticky !== null && plunger >= sticky.fromMm && plunger <= sticky.toMm ? sticky.widthMm : 0;
    return shownMm(error, dial, plunger - (way * (error.hysteresisMm + sticks)) / 2) - plunger;
  };
  const zero = at(0, 1);
  return plan.map((travel) => ({
    turn: travel / dial.rangePerTurn,
    up: (at(travel, 1) - zero) / graduationMm,
    down: (at(travel, -1) - zero) / graduationMm,
  }));
}

/** How far every figure of a bench lies from its limit, in tenths of a graduation, the step a gauge is read to here. */
export function stepsFromLimits(bench: Bench): number[] {
  const { dial, limits } = bench;
  const limit = (name: 'wholeRange' | 'oneTurn' | 'adjacent' | 'hysteresis') =>
    convertLength(limits[name], limits.unit, dial.unit) / dial.graduation;
  return [0.2, 0.37, 0.5, 0.66, 0.82].flatMap((preload) => {
    const errors = trueErrors(bench, preload);
    const both = (from: number, to: number) =>
      errors
        .filter(({ turn }) => turn > from - 1e-6 && turn < to + 1e-6)
        .flatMap(({ up, down }) => [up, down]);
    const steps = errors.slice(1).flatMap(({ turn, up, down }, n) => {
      const last = errors[n];
      return last === undefined || turn - last.turn > 0.11
        ? []
        : [Math.abs(up - last.up), Math.abs(down - last.down)];
    });
    const figures = [
      spread(both(0, 1000)) - limit('wholeRange'),
      Math.max(...errors.map(({ turn }) => spread(both(turn, turn + 1)))) - limit('oneTurn'),
      Math.max(...steps) - limit('adjacent'),
      Math.max(...errors.map(({ up, down }) => Math.abs(down - up))) - limit('hysteresis'),
    ];
    return figures.map((off) => 10 * Math.abs(off));
  });
}
