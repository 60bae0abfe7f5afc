import type { Generated } from 'kysely';
import type { LengthUnit } from '../engine/index.ts';

export interface GaugeStudyTables {
  gauge_studies: {
    id: Generated<number>;
    section_id: number;
    title: string;
    unit: LengthUnit;
    graduation: number;
    tolerance: number | null;
    parts: string;
    people: string;
    repeats: number;
    seed: string;
    made_by: number;
    made_at: string;
  };
  gauge_study_readings: {
    id: Generated<number>;
    study_id: number;
    part: number;
    person: number;
    repeat: number;
    value: number | null;
    entered_by: number;
    at: string;
  };
}
