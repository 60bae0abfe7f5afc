import {
  type CamLiftSheet,
  convertLength,
  type FollowUp,
  judge,
  type RollerVerdict,
  type Verdict,
  type WrittenLobe,
  type WrittenReading,
} from '../engine/index.ts';
import type { CamLiftHabits, Plate, SeenLobe } from './cam-lift.ts';
import type { SeenReading } from './lobe-reading.ts';

/** The sheet that somebody with these habits makes of what was seen. */
export function writeSheet(
  plate: Plate,
  seen: readonly SeenLobe[],
  habits: CamLiftHabits = {},
): CamLiftSheet {
  const { specification, dial } = plate;
  const judged = seen.map((lobe) => {
    const line = lobe.readings.length === 0 ? copiedFrom(plate, lobe.position) : lineFrom(lobe, habits);
    const lift = convertLength(line.lift ?? 0, dial.unit, specification.unit);
    return { ...line, verdict: habits.verdict?.(lift, lobe.position) ?? judgeBy(plate, lift) };
  });
  return { lobes: judged.map((lobe) => ({ ...lobe, next: nextFor(dial.unit, lobe, judged) })) };
}

function lineFrom(
  { position, readings: seen }: SeenLobe,
  { write = writeWhatIsSeen }: CamLiftHabits,
): WrittenLobe {
  const readings = seen.map((one, index) => write(one, position, index + 1));
  const lifts = readings.flatMap(({ lift }) => lift ?? []);
  const lift = lifts.length === 0 ? null : lifts.reduce((sum, one) => sum + one, 0) / lifts.length;
  return { position, readings, lift, verdict: null, next: null };
}

/** The sheet with what was found of each roller; the same sheet where none was looked at. */
export function withRollers(sheet: CamLiftSheet, rollers: ReadonlyMap<number, RollerVerdict>): CamLiftSheet {
  if (rollers.size === 0) return sheet;
  return { lobes: sheet.lobes.map((lobe) => ({ ...lobe, roller: rollers.get(lobe.position) ?? null })) };
}

/** The sheet with the gauge that was taken; the same sheet where there was none to choose. */
export function withGauge(sheet: CamLiftSheet, plate: Plate): CamLiftSheet {
  return plate.tray === undefined ? sheet : { ...sheet, gauge: plate.dialName };
}

/** A line filled in from the specification without going near the engine. */
function copiedFrom(plate: Plate, position: number): WrittenLobe {
  const { nominal, unit } = plate.specification;
  const lift = convertLength(nominal, unit, plate.dial.unit);
  const blank = { counterBefore: null, counterHigh: null, turns: null, pointer: null, returned: 0 };
  const readings = [
    { ...blank, lift },
    { ...blank, lift },
  ];
  return { position, readings, lift, verdict: null, next: null };
}

function judgeBy({ specification, decision }: Plate, lift: number): Verdict {
  if (decision?.rule === 'guarded') return judge(lift, decision, specification, 'guarded').verdict;
  const { lower, upper } = specification;
  if (lower !== null && lift < lower - 1e-9) return 'below';
  if (upper !== null && lift > upper + 1e-9) return 'above';
  return 'inside';
}

/** What to do next, once all are measured: a lobe well below the others is measured again, inside limits or not. */
function nextFor(unit: 'in' | 'mm', lobe: WrittenLobe, all: readonly WrittenLobe[]): FollowUp {
  if (lobe.verdict !== 'inside') return 'measure-again';
  const others = all.flatMap((other) =>
    other !== lobe && other.verdict === 'inside' ? (other.lift ?? []) : [],
  );
  const mean = others.reduce((sum, lift) => sum + lift, 0) / others.length;
  const belowIn = others.length === 0 ? 0 : convertLength(mean - (lobe.lift ?? 0), unit, 'in');
  return belowIn > 0.003 ? 'measure-again' : 'return-to-service';
}

/** The reading as it was seen, with no slip between eye and paper. */
export function writeWhatIsSeen(seen: SeenReading): WrittenReading {
  const { turns, pointer, counterBefore, counterHigh, returned, graduation, rangePerTurn } = seen;
  return {
    turns,
    pointer,
    counterBefore,
    counterHigh,
    returned: returned * graduation,
    lift: turns * rangePerTurn + pointer * graduation,
  };
}
