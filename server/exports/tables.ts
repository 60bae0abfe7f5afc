import type { Generated } from 'kysely';

export interface ExportsTables {
  exports: {
    id: Generated<number>;
    person_id: number;
    what: string;
    rows: number;
    at: string;
  };
}
