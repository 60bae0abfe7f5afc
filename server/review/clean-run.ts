import type { CleanLine } from '../../views/drawing/plot.ts';
import {
  type CamLiftAction,
  type CamLiftBench,
  CYCLE_DEG,
  gradeAttempt,
  type TraceRun,
} from '../engine/index.ts';

/** A pull of the bar. */
const STEP_DEG = 60;
/** A base circle is looked for over so many degrees. */
const STILL_DEG = 60;
/** Degrees between two points of the line. */
const LINE_STEP_DEG = 4;
const NO_SHEET = { lobes: [] };

/** Travel over one cycle, by degrees of crank from the bench's start. */
interface Cycle {
  readonly fromDeg: number;
  readonly deg: readonly number[];
  readonly travel: readonly number[];
}

/**
 * What the gauge shows on a lobe that is set up as it should be, zeroed on the base circle and barred once through 720°, the rod pressed
 * after each pull. The engine works it out on the very bench of the attempt, so it holds the truth: only for what has been graded.
 */
export function cleanCycle(bench: CamLiftBench, position: number): Cycle | null {
  // Once round to see where the base circle is. Then on to its middle, set up afresh and zeroed there, and once round again.
  const looking = [...takeUp(bench), ...standIn(position), ...setUp(), ...round()];
  const found = runAfter(bench, looking, 0);
  if (found === null) return null;
  const end = found.crankDeg.at(-1) ?? 0;
  const onto = (((middleOfBase(found) - end) % CYCLE_DEG) + CYCLE_DEG) % CYCLE_DEG;
  const zeroed: CamLiftAction[] = [...setUp(), { type: 'unclamp' }, { type: 'zero' }, { type: 'clamp' }];
  const before = [...looking, ...pulls(onto), ...zeroed];
  const run = runAfter(bench, [...before, ...round()], before.length);
  const [fromDeg] = run?.crankDeg ?? [];
  if (run === null || fromDeg === undefined) return null;
  return { fromDeg, deg: run.crankDeg.map((deg) => deg - fromDeg), travel: run.travel };
}

/** The clean travel at every few degrees of a stretch of the student's own. */
export function lineAlong(cycle: Cycle, run: Pick<TraceRun, 'crankDeg'>): CleanLine {
  const from = Math.min(...run.crankDeg);
  const to = Math.max(...run.crankDeg);
  const crankDeg: number[] = [];
  for (let deg = from; deg <= to; deg += LINE_STEP_DEG) crankDeg.push(deg);
  return { crankDeg, travel: crankDeg.map((deg) => travelAt(cycle, deg)) };
}

function travelAt({ fromDeg, deg, travel }: Cycle, at: number): number {
  const wanted = (((at - fromDeg) % CYCLE_DEG) + CYCLE_DEG) % CYCLE_DEG;
  const after = deg.findIndex((one) => one >= wanted);
  const [a, b] = [deg[after - 1] ?? 0, deg[after] ?? CYCLE_DEG];
  const [y, z] = [travel[after - 1] ?? travel[0] ?? 0, travel[after] ?? travel.at(-1) ?? 0];
  return b === a ? z : y + ((z - y) * (wanted - a)) / (b - a);
}

/** The gauge and a rod that fits, where they are to be chosen. */
function takeUp(bench: CamLiftBench): CamLiftAction[] {
  const rod = bench.rods.findIndex(({ rocksMm }) => rocksMm === 0) + 1;
  return [
    ...(bench.tray.length > 0 ? [{ type: 'choose-gauge', gauge: bench.dialName } as const] : []),
    ...(rod > 0 ? [{ type: 'choose-rod', rod } as const] : []),
  ];
}

/** A tappet that stops short is pushed again, its slot turned to the pin. */
function standIn(position: number): CamLiftAction[] {
  return [
    { type: 'move', position },
    { type: 'seat' },
    { type: 'turn-tappet' },
    { type: 'seat' },
    { type: 'press' },
  ];
}

/** The indicator as it should stand: with preload, square, everything tight. */
function setUp(): CamLiftAction[] {
  return [
    { type: 'preload', turns: 0.5 },
    { type: 'align', square: true },
    { type: 'tighten', part: 'arm' },
    { type: 'tighten', part: 'base' },
    { type: 'tighten', part: 'rod' },
    { type: 'clamp' },
  ];
}

function round(): CamLiftAction[] {
  return pulls(CYCLE_DEG);
}

function pulls(degrees: number): CamLiftAction[] {
  const actions: CamLiftAction[] = [];
  for (let left = degrees; left > 0; left -= STEP_DEG) {
    actions.push({ type: 'bar', degrees: Math.min(STEP_DEG, left), speed: 60 }, { type: 'press' });
  }
  return actions;
}

/** The last stretch of the trace, of what was done from an action on. */
function runAfter(
  bench: CamLiftBench,
  actions: readonly CamLiftAction[],
  from: number,
): Pick<TraceRun, 'crankDeg' | 'travel'> | null {
  const run = gradeAttempt(bench, actions, NO_SHEET).trace.at(-1);
  if (run === undefined) return null;
  const first = run.at.findIndex((at) => at >= from);
  if (first < 0) return null;
  return { crankDeg: run.crankDeg.slice(first), travel: run.travel.slice(first) };
}

/** The middle of the longest stretch in which the pointer stays near its lowest. */
function middleOfBase({ crankDeg, travel }: Pick<TraceRun, 'crankDeg' | 'travel'>): number {
  const lowest = Math.min(...travel);
  const highest = Math.max(...travel);
  const near = lowest + (highest - lowest) * 0.01;
  let best = { from: 0, to: 0 };
  let from: number | null = null;
  // Twice round, so that a base circle across the end of the cycle is one stretch.
  for (let index = 0; index < crankDeg.length * 2; index += 1) {
    const place = index % crankDeg.length;
    const deg = (crankDeg[place] ?? 0) + (index < crankDeg.length ? 0 : CYCLE_DEG);
    if ((travel[place] ?? 0) > near) from = null;
    else {
      from ??= deg;
      if (deg - from > best.to - best.from) best = { from, to: deg };
    }
  }
  return best.to - best.from >= STILL_DEG
    ? (best.from + best.to) / 2
    : (crankDeg[travel.indexOf(lowest)] ?? 0);
}
