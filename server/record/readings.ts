import type { Kysely } from 'kysely';
import type { Database } from '../database/tables.ts';
import { listAnswers } from '../drills/index.ts';
import {
  type AnyDefinition,
  brief,
  type CamLiftDefinition,
  type DialReadingDefinition,
  type Grade,
  generateBench,
  summarise,
} from '../engine/index.ts';
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
  const sheets = await listGradedSheets(db, { studentId });
  return [...drills, ...sheets.flatMap(readingErrorsOf)].sort((a, b) => a.at.localeCompare(b.at));
}

/** A sheet handed in, with its grade. */
export interface GradedSheet {
  readonly definition: string;
  readonly seed: string;
  readonly sheet: string;
  readonly grade: string;
  readonly at: string;
}

/** Lifts and readings of dials. Where the gauge is chosen at the bench, or what is written is worked out of several readings, the sheet is left out. */
export function readingErrorsOf(one: GradedSheet): readonly ReadingError[] {
  const parsed = JSON.parse(one.definition) as AnyDefinition;
  if (parsed.kind === 'dial-reading') return errorsOfDials(parsed, one);
  if (parsed.kind === 'cam-lift' && parsed.chooseGauge !== true) return errorsOfLifts(parsed, one);
  return [];
}

function errorsOfDials(definition: DialReadingDefinition, { seed, grade, at }: GradedSheet): ReadingError[] {
  const { drills } = brief(generateBench(definition, seed));
  const { items } = JSON.parse(grade) as Pick<Grade, 'items'>;
  return (items ?? []).flatMap(({ item, shown, written }): ReadingError[] => {
    const dial = drills.find(({ drill }) => drill === item)?.dial;
    const [high, reading] = [shown.reading ?? null, written.reading ?? null];
    if (dial === undefined || high === null || reading === null) return [];
    const graduations = Number(((reading - high) / dial.graduation).toFixed(2));
    return [{ at, from: 'practice engine', graduations }];
  });
}

function errorsOfLifts(parsed: CamLiftDefinition, { seed, sheet, grade, at }: GradedSheet): ReadingError[] {
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

export type ReadingSummary = Omit<ReadingDay, 'day'>;

/** Bias and spread of readings, gross ones counted apart. */
export function readingSummary(graduations: readonly number[]): ReadingSummary {
  const fine = graduations.filter((one) => Math.abs(one) <= GROSS);
  const summary = fine.length === 0 ? null : summarise(fine);
  return {
    readings: graduations.length,
    gross: graduations.length - fine.length,
    bias: summary?.mean ?? null,
    spread: summary?.sd ?? null,
  };
}

/** The same by day, UTC, oldest first. */
export function readingDays(errors: readonly ReadingError[]): ReadingDay[] {
  const days = new Map<string, number[]>();
  for (const { at, graduations } of errors) {
    const day = at.slice(0, 10);
    days.set(day, [...(days.get(day) ?? []), graduations]);
  }
  return [...days].map(([day, all]) => ({ day, ...readingSummary(all) }));
}
