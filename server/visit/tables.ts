import type { Generated } from 'kysely';

export interface VisitTables {
  assessor_entries: {
    id: Generated<number>;
    person_id: number;
    basis: string;
    from_on: string;
    until_on: string | null;
    entered_by: number;
    at: string;
  };
  improvements: { id: Generated<number>; found: string; changed: string; noted_by: number; at: string };
}
