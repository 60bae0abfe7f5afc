import {
  type CamLiftBrief,
  type CamLiftView,
  convertLength,
  type Specification,
  type Verdict,
  type WrittenReading,
} from '../engine/index.ts';
import { setDownOnBaseCircle } from './base-circle.ts';
import { withGauge, withRollers, writeSheet } from './cam-lift-sheet.ts';
import {
  EngineHands,
  type EngineSeen,
  type EngineStep,
  type EngineWork,
  heard,
  seatHome,
  tryTip,
  zeroBezel,
} from './engine-hands.ts';
import { type SeenReading, stopsAt, takeReading } from './lobe-reading.ts';
import type { Finished } from './work.ts';

export interface CamLiftHabits {
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
  readonly leavesOut?: readonly EngineStep[];
}

/** The plate with its specification known. */
export type Plate = CamLiftBrief & { readonly specification: Specification };

export interface SeenLobe {
  readonly position: number;
  readonly readings: readonly SeenReading[];
}

export interface MeasuredLobes extends Finished<'cam-lift'> {
  readonly plate: Plate;
  /** What was seen of each lobe; a lobe that was skipped has no readings. */
  readonly seen: readonly SeenLobe[];
}

/** Takes what is to be chosen, and measures one lobe after the other by pointer, small hand, effort and what is said. */
export function* measureLobes(
  given: CamLiftBrief,
  first: CamLiftView,
  habits: CamLiftHabits = {},
): EngineWork<MeasuredLobes> {
  const hands = new EngineHands(first);
  const plate = yield* makeReady(given, hands);
  const seen: SeenLobe[] = [];
  for (const position of plate.positions) {
    const readings = habits.skip?.(position) ? [] : yield* measureLobe(plate, hands, position, habits);
    seen.push({ position, readings });
  }
  const sheet = withGauge(withRollers(writeSheet(plate, seen, habits), hands.rollers), plate);
  return { plate, seen, sheet };
}

/** Looks up what must be looked up, and takes a gauge and a rod that fit: the plate as it stands then. */
function* makeReady(plate: CamLiftBrief, hands: EngineHands): EngineWork<Plate> {
  const specification = plate.specification ?? (yield* lookUp(plate, hands));
  yield* takeRod(plate, hands);
  const neededIn = convertLength(specification.nominal, specification.unit, 'in') + 0.05;
  const fits = plate.tray?.find(
    ({ dial }) =>
      dial.counter !== 'none' &&
      convertLength(dial.travel, dial.unit, 'in') >= neededIn &&
      convertLength(dial.graduation, dial.unit, 'mm') >= 0.005,
  );
  if (fits === undefined) return { ...plate, specification };
  yield* hands.does({ type: 'choose-gauge', gauge: fits.dialName });
  return { ...plate, specification, ...fits };
}

function* lookUp({ page }: CamLiftBrief, hands: EngineHands): EngineWork<Specification> {
  const { said } = yield* hands.does({ type: 'look-up', letter: page?.letter ?? '' });
  const row = said.find((one) => one.code === 'specification');
  if (row === undefined) throw new Error('Nothing was found on the page.');
  return row;
}

/** One rod after the other, until one fits snugly and has a flat end. */
function* takeRod({ rods = 0 }: CamLiftBrief, hands: EngineHands): EngineWork {
  for (let rod = 1; rod <= rods; rod += 1) {
    const { said } = yield* hands.does({ type: 'choose-rod', rod });
    if (said.some((one) => one.code === 'rod-in-hand' && one.fit === 'snug' && one.end === 'flat')) return;
  }
}

function* measureLobe(
  plate: Plate,
  hands: EngineHands,
  position: number,
  habits: CamLiftHabits,
): EngineWork<readonly SeenReading[]> {
  const skips = (step: EngineStep) => habits.leavesOut?.includes(step) ?? false;
  yield* hands.does({ type: 'move', position });
  if (plate.rollerVerdict) {
    const sound = looksSound(yield* hands.does({ type: 'inspect' }));
    hands.rollers.set(position, sound ? 'sound' : 'not-again');
  }
  yield* seatHome(hands, skips('second-seat'));
  const presses = !skips('press');
  const round = yield* setDownOnBaseCircle(plate.dial, hands, habits.preloadTurns ?? 0.5, presses, skips);
  if (!skips('tip')) yield* tryTip(hands);
  yield* zeroBezel(hands, !skips('clamp'));

  const stopAtDeg = habits.stopsShortBy === undefined ? null : stopsAt(round, habits.stopsShortBy);
  const readings: SeenReading[] = [];
  for (const reading of skips('second-reading') ? ([1] as const) : ([1, 2] as const)) {
    const writesDown = function* (): EngineWork {
      if (!habits.takesNoNotes) yield* hands.does({ type: 'note', position, reading, box: 'pointer' });
    };
    readings.push(yield* takeReading(plate.dial, hands, { stopAtDeg, presses, writesDown }));
  }
  return readings;
}

/** Bright, smooth and round. */
function looksSound(seen: EngineSeen): boolean {
  return (['roller-bright', 'roller-smooth', 'roller-round'] as const).every((code) => heard(seen, code));
}
