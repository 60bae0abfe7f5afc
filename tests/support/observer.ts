import {
  act,
  brief,
  type CamLiftAction,
  type CamLiftBench,
  type CamLiftBrief,
  type CamLiftDefinition,
  type CamLiftSeen,
  type CamLiftSheet,
  convertLength,
  generateBench,
  graduationsPerTurn,
  lookAt,
  type Perception,
  type RollerVerdict,
  type Sample,
  type Specification,
  startBench,
  type Verdict,
  type WrittenReading,
} from '../../server/engine/index.ts';
import { withRollers, writeSheet } from './observer-sheet.ts';

export { writeSheet, writeWhatIsSeen } from './observer-sheet.ts';

/** A whole attempt as an observer left it. */
export interface ObservedAttempt {
  readonly bench: CamLiftBench;
  readonly plate: Plate;
  readonly actions: readonly CamLiftAction[];
  /** What was seen of each lobe; a lobe that was skipped has no readings. */
  readonly seen: readonly SeenLobe[];
  readonly sheet: CamLiftSheet;
}

export interface SeenLobe {
  readonly position: number;
  readonly readings: readonly SeenReading[];
}

/** What one reading was, as the observer saw it; turned into what is written by the observer's habits. */
export interface SeenReading {
  readonly turns: number;
  readonly pointer: number;
  readonly counterBefore: number;
  readonly counterHigh: number;
  readonly returned: number;
  readonly graduation: number;
  readonly rangePerTurn: number;
  readonly perTurn: number;
}

export interface Habits {
  /** Turns a reading seen into a reading written. The default writes what was seen. */
  readonly write?: (seen: SeenReading, position: number, reading: number) => WrittenReading;
  /** Decides the verdict. The default judges the lift written against the specification. */
  readonly verdict?: (lift: number, position: number) => Verdict;
  /** Leaves a lobe unmeasured though its line is filled from the specification. */
  readonly skip?: (position: number) => boolean;
  /** Graduations short of the high point at which this observer writes the reading down, and does not look again. */
  readonly stopsShortBy?: number;
  /** Says nothing of when a reading was written down. */
  readonly takesNoNotes?: boolean;
  /** Turns of preload. */
  readonly preloadTurns?: number;
  /** Does not lift the tip, does not clamp, measures once: left-out steps, for the remarks they bring. */
  readonly leavesOut?: readonly (
    | 'tip'
    | 'clamp'
    | 'second-reading'
    | 'press'
    | 'second-seat'
    | 'align'
    | 'tighten'
  )[];
}

/** The plate with its specification known. */
export type Plate = CamLiftBrief & { readonly specification: Specification };

/** Degrees of crank barred at a time. What happens on the way is seen at every degree. */
const STEP_DEG = 60;
const CYCLE_DEG = 720;
const WINDOW_DEG = 60;

/**
 * A careful student who reads only what is to be seen: pointer, small hand, effort and what is said. Everything below uses `seen`
 * and `brief` alone, never the bench.
 */
export function observe(
  definition: CamLiftDefinition,
  seed: string | number,
  habits: Habits = {},
): ObservedAttempt {
  const bench = generateBench(definition, seed);
  const hands = handsOn(bench);
  const plate = makeReady(brief(bench), hands);
  const seen = plate.positions.map((position): SeenLobe => {
    const readings = habits.skip?.(position) ? [] : measureLobe(plate, hands, position, habits);
    return { position, readings };
  });
  const written = writeSheet(plate, seen, habits);
  const gauge = plate.tray === undefined ? {} : { gauge: plate.dialName };
  const sheet = { ...withRollers(written, hands.rollers), ...gauge };
  return { bench, plate, actions: hands.actions, seen, sheet };
}

/** Does actions and remembers them; the only way to the bench. */
export function handsOn(bench: ObservedAttempt['bench']) {
  let state = startBench(bench);
  let view = lookAt(bench, state);
  const actions: CamLiftAction[] = [];
  const rollers = new Map<number, RollerVerdict>();
  return {
    actions,
    rollers,
    does: (action: CamLiftAction): CamLiftSeen => {
      const result = act(bench, state, action);
      state = result.state;
      view = result.seen.now;
      actions.push(action);
      return result.seen;
    },
    sees: (): Sample => view.sample,
  };
}

/** Bright, smooth and round. */
function looksSound(seen: CamLiftSeen): boolean {
  return (['roller-bright', 'roller-smooth', 'roller-round'] as const).every((code) => heard(seen, code));
}

export type Hands = ReturnType<typeof handsOn>;

export function heard(seen: CamLiftSeen, code: Perception['code']): boolean {
  return seen.said.some((one) => one.code === code);
}

/** Looks up what must be looked up, and takes a gauge and a rod that fit: the plate as it stands then. */
function makeReady(plate: CamLiftBrief, { does }: Hands): Plate {
  const specification =
    plate.specification ?? lookedUp(does({ type: 'look-up', letter: plate.page?.letter ?? '' }));
  for (let rod = 1; rod <= (plate.rods ?? 0); rod += 1) {
    const { said } = does({ type: 'choose-rod', rod });
    if (said.some((one) => one.code === 'rod-in-hand' && one.fit === 'snug' && one.end === 'flat')) break;
  }
  const neededIn = convertLength(specification.nominal, specification.unit, 'in') + 0.05;
  const fits = plate.tray?.find(
    ({ dial }) =>
      dial.counter !== 'none' &&
      convertLength(dial.travel, dial.unit, 'in') >= neededIn &&
      convertLength(dial.graduation, dial.unit, 'mm') >= 0.005,
  );
  if (fits === undefined) return { ...plate, specification };
  does({ type: 'choose-gauge', gauge: fits.dialName });
  return { ...plate, specification, ...fits };
}

function lookedUp({ said }: CamLiftSeen): Specification {
  const row = said.find((one) => one.code === 'specification');
  if (row === undefined) throw new Error('Nothing was found on the page.');
  return row;
}

function measureLobe(plate: Plate, hands: Hands, position: number, habits: Habits): SeenReading[] {
  const skips = (step: NonNullable<Habits['leavesOut']>[number]) => habits.leavesOut?.includes(step) ?? false;
  hands.does({ type: 'move', position });
  if (plate.rollerVerdict) {
    const sound = looksSound(hands.does({ type: 'inspect' }));
    hands.rollers.set(position, sound ? 'sound' : 'not-again');
  }
  seatHome(hands, skips('second-seat'));
  const round = setDownOnBaseCircle(plate, hands, habits.preloadTurns ?? 0.5, !skips('press'), skips);
  if (!skips('tip')) for (let n = 0; n < 3; n += 1) hands.does({ type: 'lift-tip' });
  hands.does({ type: 'unclamp' });
  hands.does({ type: 'zero' });
  if (!skips('clamp')) hands.does({ type: 'clamp' });
  const stopAtDeg = habits.stopsShortBy === undefined ? null : stopsAt(round, habits.stopsShortBy);
  const numbers = skips('second-reading') ? ([1] as const) : ([1, 2] as const);
  return numbers.map((reading) => {
    const writesDown = () => {
      if (!habits.takesNoNotes) hands.does({ type: 'note', position, reading, box: 'pointer' });
    };
    return takeReading(plate, hands, stopAtDeg, !skips('press'), writesDown);
  });
}

export function seatHome({ does }: Hands, onlyOnce: boolean): void {
  let seen = does({ type: 'seat' });
  if (onlyOnce) return;
  if (heard(seen, 'far-up')) {
    does({ type: 'turn-tappet' });
    seen = does({ type: 'seat' });
  }
  if (heard(seen, 'dull-stop')) does({ type: 'seat' });
}

type Skips = (step: NonNullable<Habits['leavesOut']>[number]) => boolean;

/** In line with the bore, arm and base tight, the rod firm: looked at first, set right where it is not. */
function setRight({ does }: Hands, skips: Skips): void {
  if (!skips('align') && !heard(does({ type: 'align' }), 'stands-square'))
    does({ type: 'align', square: true });
  if (skips('tighten')) return;
  for (const part of ['arm', 'base', 'rod'] as const) does({ type: 'tighten', part });
}

/** The pointer at one degree of a round of the cam, counted on from where it stood at the start. */
interface RoundPoint {
  readonly deg: number;
  readonly count: number;
}

/** A round of the cam, and where in it the base circle was found. */
interface Round {
  readonly points: readonly RoundPoint[];
  readonly base: RoundPoint;
}

/**
 * Sets the indicator down, bars round once to learn how the pointer goes, and stops on the base circle. Where the tip left the
 * work, or little preload is left there, it is set down anew and the round is barred again.
 */
export function setDownOnBaseCircle(
  plate: CamLiftBrief,
  hands: Hands,
  preloadTurns: number,
  presses: boolean,
  skips: Skips,
): Round {
  for (let tries = 1; ; tries += 1) {
    hands.does({ type: 'preload', turns: preloadTurns });
    setRight(hands, skips);
    // The bezel is clamped from the start, so that the round is barred against one zero.
    hands.does({ type: 'clamp' });
    const { points, tipLeft } = barRound(plate, hands, presses);
    const base = stillestPlace(points);
    for (let left = base.deg; left > 0; left -= STEP_DEG) {
      hands.does({ type: 'bar', degrees: Math.min(left, STEP_DEG), speed: 60 });
    }
    if (presses) hands.does({ type: 'press' });
    const lostTurns = -base.count / graduationsPerTurn(plate.dial);
    if ((!tipLeft && lostTurns < 0.1) || tries === 4) return { points, base };
  }
}

/** One whole turn of the cam from here: the pointer at every degree. */
function barRound(plate: CamLiftBrief, { does, sees }: Hands, presses: boolean) {
  const follow = follower(plate, sees().pointer, 0);
  const points: RoundPoint[] = [{ deg: 0, count: 0 }];
  let tipLeft = false;
  for (let deg = 0; deg < CYCLE_DEG; deg += STEP_DEG) {
    const from = sees().crankDeg;
    const seen = does({ type: 'bar', degrees: STEP_DEG, speed: 60 });
    tipLeft ||= heard(seen, 'tip-off-the-work');
    for (const { crankDeg, pointer } of seen.samples.slice(1)) {
      points.push({ deg: deg + ((crankDeg - from + 360) % 360), count: follow(pointer) });
    }
    // Pressing shows whether the tappet has stayed up.
    if (presses) for (const { pointer } of does({ type: 'press' }).samples) follow(pointer);
  }
  return { points, tipLeft };
}

/**
 * A place on the base circle: of all places from which the pointer stays within half a graduation over 60° of crank, the one
 * where it stands lowest; and of places equally low, to a tenth of a graduation, the middle of the longest such stretch.
 */
function stillestPlace(points: readonly RoundPoint[]): RoundPoint {
  const counts = Array.from({ length: CYCLE_DEG }, () => 0);
  for (const { deg, count } of points) counts[Math.round(deg) % CYCLE_DEG] = count;
  const at = (deg: number) => counts[deg % CYCLE_DEG] ?? 0;
  const isStill = (deg: number) => {
    let low = at(deg);
    let high = low;
    for (let on = 1; on <= WINDOW_DEG; on += 1) {
      low = Math.min(low, at(deg + on));
      high = Math.max(high, at(deg + on));
      if (high - low > 0.5) return false;
    }
    return true;
  };
  const still = counts.map((_, deg) => isStill(deg));
  const lowest = Math.min(...counts.filter((_, deg) => still[deg]));
  const isLow = (deg: number) => (still[deg % CYCLE_DEG] ?? false) && at(deg) <= lowest + 0.1;
  // Twice round, so that a stretch over the seam is seen whole.
  let longest = { endDeg: 0, length: 0 };
  let length = 0;
  for (let deg = 0; deg < 2 * CYCLE_DEG; deg += 1) {
    length = isLow(deg) ? length + 1 : 0;
    if (length > longest.length) longest = { endDeg: deg, length };
  }
  const deg = (longest.endDeg - Math.floor(longest.length / 2) + CYCLE_DEG) % CYCLE_DEG;
  return { deg, count: at(deg) };
}

/** Degrees from the base circle to the last place before the pointer comes within `short` graduations of its highest. */
function stopsAt({ points, base }: Round, short: number): number {
  const highest = Math.max(...points.map(({ count }) => count));
  const on = points.map(({ deg, count }) => ({
    deg: (Math.round(deg) - base.deg + CYCLE_DEG) % CYCLE_DEG,
    count,
  }));
  const reached = on.sort((a, b) => a.deg - b.deg).find(({ count }) => count >= highest - short);
  return Math.max(1, (reached?.deg ?? 1) - 1);
}

/** Follows a pointer from sample to sample, counting graduations on over whole turns; they are never half a turn apart. */
function follower(
  plate: CamLiftBrief,
  startPointer: number,
  startCount: number,
): (pointer: number) => number {
  const perTurn = graduationsPerTurn(plate.dial);
  let last = startPointer;
  let count = startCount;
  return (pointer) => {
    count += ((pointer - last + 1.5 * perTurn) % perTurn) - perTurn / 2;
    last = pointer;
    return count;
  };
}

/** Over the lobe once, from base circle to base circle. `stopAtDeg` is where a hasty student writes the reading down, if one does. */
export function takeReading(
  plate: CamLiftBrief,
  { does, sees }: Hands,
  stopAtDeg: number | null,
  presses: boolean,
  writesDown: () => void,
): SeenReading {
  const { graduation, rangePerTurn } = plate.dial;
  const perTurn = graduationsPerTurn(plate.dial);
  const fromZero = (pointer: number) => (pointer > perTurn / 2 ? pointer - perTurn : pointer);
  const start = sees();
  const follow = follower(plate, start.pointer, fromZero(start.pointer));
  let high = { count: Number.NEGATIVE_INFINITY, counter: 0 };
  let written = false;
  let atDeg = 0;
  for (const degrees of stepsOver(stopAtDeg)) {
    atDeg += degrees;
    const { samples } = does({ type: 'bar', degrees, speed: 60 });
    let count = 0;
    for (const sample of samples.slice(1)) {
      count = follow(sample.pointer);
      if (count > high.count && !(written && stopAtDeg !== null))
        high = { count, counter: sample.counter ?? 0 };
    }
    const hasPassed = high.count > perTurn / 2 && count < high.count - 3;
    const isThere = stopAtDeg === null ? hasPassed : atDeg >= stopAtDeg;
    if (isThere && !written) writesDown();
    written ||= isThere;
  }
  // A tappet that stayed up comes down on the base circle.
  if (presses) does({ type: 'press' });
  const whole = Math.round(high.count);
  const turns = Math.floor(whole / perTurn);
  return {
    turns,
    pointer: whole - turns * perTurn,
    counterBefore: start.counter ?? 0,
    counterHigh: high.counter,
    returned: Math.round(fromZero(sees().pointer)),
    graduation,
    rangePerTurn,
    perTurn,
  };
}

/** One whole turn of the cam in steps, one of which ends at `stopAtDeg`. */
function stepsOver(stopAtDeg: number | null): number[] {
  const stops = stopAtDeg === null ? [] : [stopAtDeg];
  for (let deg = STEP_DEG; deg <= CYCLE_DEG; deg += STEP_DEG) stops.push(deg);
  const ends = [...new Set(stops)].sort((a, b) => a - b);
  return ends.map((end, index) => end - (ends[index - 1] ?? 0));
}
