import { startGauge } from '../../bench-parts/gauge.ts';
import type { GaugeCannot, OwnStep, Work } from '../../bench-parts/types.ts';
import { shownMm } from '../../dial/gauge-error.ts';
import { chanceFor } from '../../random.ts';
import { fromMm, toMm } from '../../units.ts';
import type {
  IndicatorCheckBench,
  IndicatorCheckOwnAction,
  IndicatorCheckState,
  StickyPlace,
} from './types.ts';

/**
 * Scatter of a gauge about one place over a block, standard deviation in graduations; cut at 2.5 of these. A good gauge in a firm stand:
 * five readings lie within a tenth of a graduation (the standard allows three). Common practice, no source.
 */
const SCATTER_GRADUATIONS = 0.016;
/** Sizes are the same to this share of a graduation. */
export const SAME_SIZE = 0.01;

type Bench = IndicatorCheckBench;
type State = IndicatorCheckState;

export function startIndicatorCheck(bench: Bench): State {
  return {
    ...startGauge(bench),
    ...{ travel: 0, highMm: 0, way: 1, movedInSetUp: 0, eased: false, moves: 0 },
  };
}

/** A block on an anvil under the tip of the very gauge that is checked. */
export const indicatorCheckWork: Work<Bench, State, IndicatorCheckOwnAction> = {
  heightMm: ({ dial }, { travel, highMm }) => toMm(travel, dial.unit) + highMm,
  turnedDeg: () => null,
  shownMm: (bench, state, plungerMm) => {
    const { error, sticky, dial } = bench;
    const stuckMm = stuckAt(sticky, plungerMm);
    const hangsMm = hasMoved(state) && state.eased ? stuckMm : 0;
    const worksMm = plungerMm - (lastWay(state) * (error.hysteresisMm + stuckMm)) / 2;
    return shownMm(error, dial, worksMm) + hangsMm + scatterMm(bench, state);
  },
  // It leans on a block square to the movement: high.
  leanFactor: (leanDeg) => 1 / Math.cos((leanDeg * Math.PI) / 180),
  whyNotSet: () => null,
  does: (bench, state, action) => {
    switch (action.type) {
      case 'put-block':
        return putBlock(bench, state, action);
      case 'let-down':
        return letDown(bench, state, action.how);
      default:
        return cannot('unknown-action');
    }
  },
};

/** Which way the plunger moved last: 1 in, as it does when the tip is set down, −1 out. */
export function lastWay(state: State): 1 | -1 {
  return hasMoved(state) ? state.way : 1;
}

function hasMoved({ movedInSetUp, setUps }: State): boolean {
  return movedInSetUp === setUps;
}

/** How much wider the play is at a place of the plunger, millimetres. */
export function stuckAt(sticky: StickyPlace | null, plungerMm: number): number {
  return sticky !== null && plungerMm >= sticky.fromMm && plungerMm <= sticky.toMm ? sticky.widthMm : 0;
}

function scatterMm({ seed, dial }: Bench, { setUps, moves }: State): number {
  const chance = chanceFor(seed, `repeat/${setUps}/${moves}`);
  return chance.normal(0, SCATTER_GRADUATIONS) * toMm(dial.graduation, dial.unit);
}

function cannot(why: GaugeCannot): OwnStep<State> {
  return { said: [{ code: 'cannot', why }], through: [] };
}

function putBlock(
  { dial, badBlocks }: Bench,
  state: State,
  { travel, wiped, stack = 1 }: IndicatorCheckOwnAction & { readonly type: 'put-block' },
): OwnStep<State> {
  if (!Number.isFinite(travel) || travel < 0) return cannot('not-a-number');
  if (travel > dial.travel) return cannot('too-far');
  if (stack !== 1 && stack !== 2) return cannot('no-such-place');
  const same = (other: number) => Math.abs(other - travel) < SAME_SIZE * dial.graduation;
  const bad = stack === 1 ? badBlocks.find((block) => same(block.travel)) : undefined;
  const wrings = wiped === true && bad?.why !== 'burr';
  const way = same(state.travel) ? lastWay(state) : travel > state.travel ? 1 : -1;
  const put = {
    ...moved(state, way),
    travel,
    highMm: bad === undefined || (bad.why === 'grit' && wiped === true) ? 0 : bad.highMm,
  };
  const code =
    wiped === true ? (wrings ? 'block-wrung' : 'block-does-not-wring') : ('block-not-wiped' as const);
  return { said: [{ code }], through: [put] };
}

function moved(state: State, way: 1 | -1, eased = false): State {
  return { ...state, way, eased, movedInSetUp: state.setUps, moves: state.moves + 1 };
}

function letDown(bench: Bench, state: State, how: 'fast' | 'slowly'): OwnStep<State> {
  if (state.stand === null) return cannot('indicator-is-off');
  if (how !== 'fast' && how !== 'slowly') return cannot('no-such-place');
  const { dial } = bench;
  const roomMm =
    toMm(dial.travel - state.travel, dial.unit) * state.stand.scale - Math.max(0, state.stand.standMm);
  const liftMm = Math.max(0, Math.min(toMm(dial.rangePerTurn, dial.unit), 0.9 * roomMm));
  const raised = {
    ...moved(state, 1),
    travel: state.travel + fromMm(liftMm / state.stand.scale, dial.unit),
  };
  const down = { ...moved(state, -1, how === 'slowly'), travel: state.travel };
  return { said: [{ code: 'let-down' }], through: [raised, down] };
}
