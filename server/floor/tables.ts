import type { Generated } from 'kysely';

export interface FloorTables {
  calls: {
    id: Generated<number>;
    section_id: number;
    student_id: number;
    attempt_id: string | null;
    at: string;
  };
  call_answers: { call_id: number; answered_by: number; at: string };
}
