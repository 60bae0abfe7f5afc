import type { Generated } from 'kysely';

export type AuditKind =
  | 'export'
  | 'points'
  | 'tries'
  | 'word'
  | 'rule'
  | 'signature'
  | 'roster'
  | 'gauge'
  | 'assessor'
  | 'change'
  | 'look';

export interface AuditTables {
  record_looks: {
    id: Generated<number>;
    looked_by: number;
    student_id: number;
    what: string;
    at: string;
  };
  /** A view over what is only ever added to. */
  audit_events: {
    kind: AuditKind;
    ref: string;
    at: string;
    who_id: number | null;
    about_id: number | null;
    what: string;
    reason: string;
  };
}
