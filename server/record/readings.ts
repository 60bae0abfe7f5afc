import type { Kysely } from 'kysely';
import type { Database } from '../database/tables.ts';
import { listAnswers } from '../drills/index.ts';
import { brief, type CamLiftDefinition, type Grade, generateBench, summarise } from '../engine/index.ts';
import { listGradedSheets } from '../review/index.ts';

/** One reading against what the gauge showed. */
export interface ReadingError {
  readonly at: string;
  readonly from: 'drill' | 'practice engine';
  /** Written minus shown, in graduations of its dial. */
  readonly graduations: number;
}

/** The readings of one day. */
export interface ReadingDay {
  readonly day: string;
  readonly readings: number;
  /** Off by more than `GROSS`: a turn, a numeral, a direction. They are counted, not averaged. */
  readonly gross: number;
  /** Mean of the others; null where there are none. */
  readonly bias: number | null;
  /** Their standard deviation; null for fewer than two. */
  readonly spread: number | null;
}

/** What is off by more than this is no matter of the eye. Common practice, no source: half a numeral. */
export const GROSS = 5;

/** Every reading of a student's that can be held against what a gauge showed, oldest first. */
export async function listReadingErrors(db: Kysely<Database>, studentId: number): Promise<ReadingError[]> {
  const drills = (await listAnswers(db, studentId)).map(
    ({ at, shown, written }): ReadingError => ({ at, from: 'drill', graduations: written - shown }),
  );
  const sheets = await listGradedSheets(db, studentId);
  return [...drills, ...sheets.flatMap(errorsOf)].sort((a, b) => a.at.localeCompare(b.at));
}

interface GradedSheet {
  readonly definition: string;
  readonly seed: string;
  readonly sheet: string;
  readonly grade: string;
  readonly at: string;
}

/** Where the gauge is chosen at the bench, or the kind has none, the dial of a reading is not known here: such sheets are left out. */
function errorsOf({ definition, seed, sheet, grade, at }: GradedSheet): ReadingError[] {
  const parsed = JSON.parse(definition) as CamLiftDefinition;
  if (parsed.kind !== 'cam-lift' || parsed.chooseGauge === true) return [];
  const { graduation } = brief(generateBench(parsed, seed)).dial;
  const { lobes } = JSON.parse(grade) as Pick<Grade, 'lobes'>;
  const written = JSON.parse(sheet) as {
    lobes: { position: number; readings: { lift: number | null }[] }[];
  };
  return (lobes ?? []).flatMap(({ position, shown }) => {
    const readings = written.lobes.find((lobe) => lobe.position === position)?.readings ?? [];
    return shown.flatMap((length, index): ReadingError[] => {
      const lift = readings[index]?.lift ?? null;
      if (length === null || lift === null) return [];
      return [
        { at, from: 'practice engine', graduations: Number(((lift - length) / graduation).toFixed(2)) },
      ];
    });
  });
}

/** The same by day, UTC, oldest first. */
export function readingDays(errors: readonly ReadingError[]): ReadingDay[] {
  const days = new Map<string, number[]>();
  for (const { at, graduations } of errors) {
    const day = at.slice(0, 10);
    days.set(day, [...(days.get(day) ?? []), graduations]);
  }
  return [...days].map(([day, all]) => {
    const fine = all.filter((one) => Math.abs(one) <= GROSS);
    const summary = fine.length === 0 ? null : summarise(fine);
    return {
      day,
      readings: all.length,
      gross: all.length - fine.length,
      bias: summary?.mean ?? null,
      spread: summary?.sd ?? null,
    };
  });
}
