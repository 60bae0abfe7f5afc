import type { Generated } from 'kysely';

export interface CompetenciesTables {
  competencies: {
    id: Generated<number>;
    uuid: string;
    code: string;
    title: string;
    created_at: string;
    course: Generated<string>;
    statement: Generated<string>;
    version: Generated<number>;
    retired_at: string | null;
  };
  evidence_rules: {
    id: Generated<number>;
    competency_id: number;
    version: number;
    rule: string;
    in_force_from: string;
    made_by: number | null;
    reason: Generated<string>;
    items: Generated<string>;
  };
  competency_versions: {
    competency_id: number;
    version: number;
    content: string;
    kept_by: number | null;
    at: string;
  };
  competency_words: {
    id: Generated<number>;
    competency_id: number;
    student_id: number;
    word: 'granted' | 'revoked' | 'lifted';
    reason: string;
    said_by: number;
    at: string;
  };
  terms: { id: Generated<number>; name: string; begins_on: string; ends_on: string };
  grade_facts: {
    grade_id: number;
    attempt_id: string;
    at: string;
    set_up: number;
    procedure: number;
    reading: number;
    verdict: number;
    out_set_up: number;
    out_procedure: number;
    out_reading: number;
    out_verdict: number;
    stops: number;
    bad_part: number;
    set_up_fault: number;
  };
  /** A view: what counts by the newest rule of each. */
  competency_items: {
    competency_id: number;
    item_id: number;
  };
}
