import type { Generated } from 'kysely';
import type { Way } from '../labsheets/tables.ts';

export interface AttemptsTables {
  attempts: {
    id: string;
    section_id: number;
    item_id: number;
    student_id: number;
    try_number: number;
    way: Way;
    definition: string;
    seed: string;
    engine_version: string;
    started_at: string;
    sheet_version: Generated<number>;
    weights: string | null;
    hints: Generated<number>;
  };
  attempt_actions: {
    attempt_id: string;
    seq: number;
    action: string;
    at: string;
  };
  attempt_drafts: {
    attempt_id: string;
    sheet: string;
    saved_at: string;
  };
  hand_ins: {
    attempt_id: string;
    typed: string;
    sheet: string;
    action_count: number;
    at: string;
  };
  grades: {
    id: Generated<number>;
    attempt_id: string;
    engine_version: string;
    points: number;
    stops: number;
    grade: string;
    at: string;
  };
}
