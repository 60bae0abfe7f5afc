import {
  convertLength,
  type FaultAnswer,
  type FaultFindingBrief,
  type FaultFindingSheet,
  type FollowUp,
} from '../engine/index.ts';
import { setDownOnBaseCircle } from './base-circle.ts';
import {
  EngineHands,
  type EngineSeen,
  type EngineWork,
  heard,
  seatHome,
  tryTip,
  zeroBezel,
} from './engine-hands.ts';
import { type SeenReading, takeReading } from './lobe-reading.ts';
import type { Finished } from './work.ts';

/** Steps left out, and a name written whatever was found. */
export interface FaultHabits {
  readonly leavesOut?: readonly ('look' | 'tighten' | 'press' | 'tip' | 'correct' | 'as-found')[];
  readonly writes?: (sheet: FaultFindingSheet) => FaultFindingSheet;
}

type Skips = (step: NonNullable<FaultHabits['leavesOut']>[number]) => boolean;

/**
 * Measures the set-up as it was found, tries everything that would tell a fault, sets right what was found, and measures
 * again.
 */
export function* findFault(
  plate: FaultFindingBrief,
  first: EngineSeen['now'],
  habits: FaultHabits = {},
): EngineWork<Finished<'fault-finding'>> {
  const hands = new EngineHands(first);
  const skips: Skips = (step) => habits.leavesOut?.includes(step) ?? false;
  const [position = 1] = plate.positions;
  yield* hands.does({ type: 'move', position });
  const seated = yield* hands.does({ type: 'seat' });
  const found = skips('as-found') ? null : yield* measure(plate, hands, skips('tip'), false);
  const felt = found === null ? feltIn(seated) : yield* tryAll(hands, seated, skips);
  const after = skips('correct') ? null : yield* correctAndMeasure(plate, hands);
  const sheet = written(plate, found, after, felt);
  return { sheet: habits.writes?.(sheet) ?? sheet };
}

/** Once as found, with nothing set right on the way, or once with everything set right. */
function* measure(
  { dial }: FaultFindingBrief,
  hands: EngineHands,
  noTip: boolean,
  setsRight: boolean,
): EngineWork<SeenReading> {
  yield* setDownOnBaseCircle(dial, hands, 0.5, setsRight, () => !setsRight);
  if (!noTip) yield* tryTip(hands);
  yield* zeroBezel(hands);
  const writesNothing = function* (): EngineWork {};
  const reading = yield* takeReading(dial, hands, {
    stopAtDeg: null,
    presses: setsRight,
    writesDown: writesNothing,
  });
  // Once more round, so that what changes from pass to pass is seen.
  for (let deg = 0; deg < 720; deg += 60) yield* hands.does({ type: 'bar', degrees: 60, speed: 60 });
  return reading;
}

/** Everything that would tell: a press, a look along the bore, every screw. */
function* tryAll(hands: EngineHands, seated: EngineSeen, skips: Skips): EngineWork<FaultAnswer | null> {
  const drops = !skips('press') && heard(yield* hands.does({ type: 'press' }), 'pointer-drops');
  const look = skips('look') ? null : yield* hands.does({ type: 'align' });
  const loose = skips('tighten') ? null : yield* firstLoose(hands);
  if (look !== null && heard(look, 'tip-in-hole')) return 'tip-caught';
  if (leanDegIn(look) >= 5) return 'indicator-leans';
  if (loose !== null) return `${loose}-loose`;
  return feltIn(seated) ?? (drops ? 'tappet-sticky' : null);
}

/** Tries arm, base and rod with the wrench, and stops at the first that was loose. */
function* firstLoose(hands: EngineHands): EngineWork<'arm' | 'base' | 'rod' | null> {
  for (const part of ['arm', 'base', 'rod'] as const)
    if (heard(yield* hands.does({ type: 'tighten', part }), 'was-loose')) return part;
  return null;
}

function* correctAndMeasure(plate: FaultFindingBrief, hands: EngineHands): EngineWork<SeenReading> {
  yield* seatHome(hands, false);
  return yield* measure(plate, hands, false, true);
}

/** What seating the tappet told. */
function feltIn(seated: EngineSeen): FaultAnswer | null {
  if (heard(seated, 'far-up')) return 'slot-off-pin';
  return heard(seated, 'dull-stop') ? 'tappet-hung' : null;
}

function leanDegIn(look: EngineSeen | null): number {
  return Math.max(0, ...(look?.said ?? []).map((one) => (one.code === 'leans' ? one.degrees : 0)));
}

/** The sheet that follows from both readings and what was felt. */
function written(
  plate: FaultFindingBrief,
  found: SeenReading | null,
  after: SeenReading | null,
  felt: FaultAnswer | null,
): FaultFindingSheet {
  const foundHigh = found === null ? null : lengthOf(found);
  const foundReturn = found === null ? null : found.returned * found.graduation;
  const trueHigh = after === null ? null : lengthOf(after);
  const fault = felt ?? (isLow(plate, trueHigh) ? 'worn-lobe' : 'none');
  const effect = Math.max(Math.abs((foundHigh ?? 0) - (trueHigh ?? 0)), Math.abs(foundReturn ?? 0));
  return {
    fault,
    foundHigh,
    foundReturn,
    trueHigh,
    effectGraduations:
      foundHigh === null || trueHigh === null ? null : Math.round(effect / plate.dial.graduation),
    next: nextFor(fault, after !== null),
  };
}

const lengthOf = ({ turns, rangePerTurn, pointer, graduation }: SeenReading) =>
  turns * rangePerTurn + pointer * graduation;

function isLow({ specification, dial }: FaultFindingBrief, lift: number | null): boolean {
  if (lift === null || specification === null || specification.lower === null) return false;
  return convertLength(lift, dial.unit, specification.unit) < specification.lower - 1e-9;
}

function nextFor(fault: FaultAnswer, measuredAfter: boolean): FollowUp {
  if (fault === 'worn-lobe') return 'measure-again';
  if (fault === 'tappet-sticky' || (fault !== 'none' && !measuredAfter)) return 'correct-set-up';
  return 'return-to-service';
}
