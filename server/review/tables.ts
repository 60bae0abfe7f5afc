import type { Generated } from 'kysely';

export interface ReviewTables {
  grade_changes: {
    id: Generated<number>;
    attempt_id: string;
    set_up: number;
    procedure: number;
    reading: number;
    verdict: number;
    reason: string;
    changed_by: number;
    at: string;
  };
}
