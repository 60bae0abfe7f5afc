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
  disagreements: {
    id: Generated<number>;
    attempt_id: string;
    grade_id: number;
    about_kind: 'remark' | 'stop' | 'mistake';
    about_index: number;
    about_code: string;
    words: string;
    written_by: number;
    at: string;
  };
  attempt_comments: {
    id: Generated<number>;
    attempt_id: string;
    words: string;
    written_by: number;
    at: string;
  };
  attempt_looks: {
    id: Generated<number>;
    attempt_id: string;
    looked_by: number;
    at: string;
  };
  disagreement_answers: {
    id: Generated<number>;
    disagreement_id: number;
    words: string;
    answered_by: number;
    at: string;
  };
}
