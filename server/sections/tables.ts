import type { Generated } from 'kysely';

export interface SectionsTables {
  sections: {
    id: Generated<number>;
    name: string;
    term: string;
    created_at: string;
    archived_at: string | null;
    time_zone: Generated<string>;
    class_sourced_id: string | null;
    class_school_sourced_id: string | null;
    class_term_sourced_id: string | null;
    join_code: string | null;
  };
  roster_previews: { id: string; section_id: number; made_by: number; content: string; at: string };
  section_leavers: {
    id: Generated<number>;
    section_id: number;
    person_id: number;
    added_at: string;
    left_at: string;
    taken_off_by: number;
  };
  join_requests: {
    id: Generated<number>;
    section_id: number;
    given_name: string;
    family_name: string;
    student_number: string;
    email: string | null;
    at: string;
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
