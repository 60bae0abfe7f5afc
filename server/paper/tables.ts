import type { Generated } from 'kysely';

export type PaperKind = 'dials' | 'measuring' | 'sign-off';

export interface PaperTables {
  paper_batches: {
    id: Generated<number>;
    section_id: number;
    kind: PaperKind;
    title: string;
    settings: string;
    made_by: number;
    at: string;
  };
  paper_sheets: {
    code: string;
    batch_id: number;
    ordinal: number;
    student_id: number | null;
    seed: string | null;
  };
  paper_readings: {
    id: Generated<number>;
    code: string;
    typed: string;
    sheet: string;
    engine_version: string;
    grade: string;
    entered_by: number;
    at: string;
  };
}
