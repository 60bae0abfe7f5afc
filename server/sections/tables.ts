import type { Generated } from 'kysely';

export interface SectionsTables {
  sections: {
    id: Generated<number>;
    name: string;
    term: string;
    created_at: string;
    archived_at: string | null;
    time_zone: Generated<string>;
  };
  section_instructors: {
    section_id: number;
    person_id: number;
  };
  section_students: {
    section_id: number;
    person_id: number;
    added_at: string;
    added_by: number | null;
  };
}
