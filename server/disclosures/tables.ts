import type { Generated } from 'kysely';

export interface DisclosuresTables {
  exports: {
    id: Generated<number>;
    person_id: number;
    what: string;
    rows: number;
    at: string;
    form: Generated<string>;
    as_of: string | null;
    recipient: Generated<string>;
    purpose: Generated<string>;
    scope: Generated<string>;
    chain_link: string | null;
  };
  export_ends: { export_id: number; rows: number; bytes: number; sha256: string; at: string };
  export_students: { export_id: number; student_id: number };
}
