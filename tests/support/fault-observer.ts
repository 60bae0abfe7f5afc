import {
  brief,
  type CamLiftSeen,
  type FaultAnswer,
  type FaultFindingDefinition,
  type FaultFindingSheet,
  type FollowUp,
  generateBench,
} from '../../server/engine/index.ts';
import {
  type Hands,
  handsOn,
  heard,
  type SeenReading,
  seatHome,
  setDownOnBaseCircle,
  takeReading,
} from './observer.ts';

/** Steps left out, and a name written whatever was found. */
export interface FaultHabits {
  readonly leavesOut?: readonly ('look' | 'tighten' | 'press' | 'tip' | 'correct' | 'as-found')[];
  readonly writes?: (sheet: FaultFindingSheet) => FaultFindingSheet;
}

/**
 * A careful diagnostician who has only what is to be seen: measures the set-up as it was found, tries everything that would tell a fault,
 * sets right what was found, and measures again. Everything below goes through the hands on the engine and the brief alone.
 */
export function observeFault(
  definition: FaultFindingDefinition,
  seed: string | number,
  habits: FaultHabits = {},
) {
  const bench = generateBench(definition, seed);
  const hands = handsOn(bench.engine);
  const plate = brief(bench.engine);
  const skips = (step: NonNullable<FaultHabits['leavesOut']>[number]) =>
    habits.leavesOut?.includes(step) ?? false;
  const [position = 1] = plate.positions;
  hands.does({ type: 'move', position });
  const seated = hands.does({ type: 'seat' });
  const found = skips('as-found') ? null : measure(plate, hands, skips('tip'), false);
  const felt = found === null ? { answer: feltIn(seated), seen: [] } : tryAll(hands, seated, skips);
  const after = skips('correct') ? null : correctAndMeasure(plate, hands);
  const lengthOf = (reading: SeenReading | null) =>
    reading === null ? null : reading.turns * reading.rangePerTurn + reading.pointer * reading.graduation;
  const { lower, unit } = bench.engine.specification;
  const trueHigh = lengthOf(after);
  const lift =
    trueHigh === null
      ? null
      : unit === plate.dial.unit
        ? trueHigh
        : unit === 'mm'
          ? trueHigh * 25.4
          : trueHigh / 25.4;
  const isLow = lift !== null && lower !== null && lift < lower - 1e-9;
  const fault = felt.answer ?? (isLow ? 'worn-lobe' : 'none');
  const foundHigh = lengthOf(found);
  const foundReturn = found === null ? null : found.returned * found.graduation;
  const sheet: FaultFindingSheet = {
    fault,
    foundHigh,
    foundReturn,
    trueHigh,
    effectGraduations:
      foundHigh === null || trueHigh === null
        ? null
        : Math.round(
            Math.max(Math.abs(foundHigh - trueHigh), Math.abs(foundReturn ?? 0)) / plate.dial.graduation,
          ),
    next: nextFor(fault, after !== null),
  };
  return { bench, actions: hands.actions, sheet: habits.writes?.(sheet) ?? sheet };
}

type Plate = Parameters<typeof setDownOnBaseCircle>[0];

function measure(plate: Plate, hands: Hands, noTip: boolean, setsRight: boolean): SeenReading {
  setDownOnBaseCircle(plate, hands, 0.5, setsRight, () => !setsRight);
  if (!noTip) for (let n = 0; n < 3; n += 1) hands.does({ type: 'lift-tip' });
  hands.does({ type: 'unclamp' });
  hands.does({ type: 'zero' });
  hands.does({ type: 'clamp' });
  const first = takeReading(plate, hands, null, setsRight, () => {});
  // Once more round, so that what changes from pass to pass is seen.
  for (let deg = 0; deg < 720; deg += 60) hands.does({ type: 'bar', degrees: 60, speed: 60 });
  return first;
}

function feltIn(seated: CamLiftSeen): FaultAnswer | null {
  if (heard(seated, 'far-up')) return 'slot-off-pin';
  return heard(seated, 'dull-stop') ? 'tappet-hung' : null;
}

/** Everything that would tell: a press, a look along the bore, every screw. */
function tryAll(
  { does }: Hands,
  seated: CamLiftSeen,
  skips: (step: NonNullable<FaultHabits['leavesOut']>[number]) => boolean,
): { readonly answer: FaultAnswer | null } {
  const drops = !skips('press') && heard(does({ type: 'press' }), 'pointer-drops');
  const look = skips('look') ? null : does({ type: 'align' });
  const leanDeg = Math.max(0, ...(look?.said ?? []).map((one) => (one.code === 'leans' ? one.degrees : 0)));
  const loose = skips('tighten')
    ? undefined
    : (['arm', 'base', 'rod'] as const).find((part) => heard(does({ type: 'tighten', part }), 'was-loose'));
  if (look !== null && heard(look, 'tip-in-hole')) return { answer: 'tip-caught' };
  if (leanDeg >= 5) return { answer: 'indicator-leans' };
  if (loose !== undefined) return { answer: `${loose}-loose` };
  return { answer: feltIn(seated) ?? (drops ? 'tappet-sticky' : null) };
}

function correctAndMeasure(plate: Plate, hands: Hands): SeenReading {
  seatHome(hands, false);
  return measure(plate, hands, false, true);
}

function nextFor(fault: FaultAnswer, measuredAfter: boolean): FollowUp {
  if (fault === 'worn-lobe') return 'measure-again';
  if (fault === 'tappet-sticky' || (fault !== 'none' && !measuredAfter)) return 'correct-set-up';
  return 'return-to-service';
}
