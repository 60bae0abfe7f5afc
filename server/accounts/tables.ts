import type { Generated } from 'kysely';

export type Role = 'student' | 'instructor' | 'coordinator';

export interface PeopleTable {
  id: Generated<number>;
  role: Role;
  given_name: string;
  family_name: string;
  sign_in_name: string;
  student_number: string | null;
  email: string | null;
  password_hash: string | null;
  must_change_password: Generated<number>;
  demo: Generated<number>;
  created_at: string;
  /** Of a substitute: when their sign-in ends. */
  substitute_until: string | null;
  /** Made by the database when left out. */
  uuid: Generated<string>;
  /** What another system calls them by. */
  sourced_id: string | null;
}

export interface SessionsTable {
  id_hash: string;
  person_id: number | null;
  data: string;
  created_at: string;
  expires_at: string;
}

export interface AccountsTables {
  person_pins: { person_id: number; hash: string; set_at: string };
  pin_misses: { id: Generated<number>; person_id: number; at: string };
  people: PeopleTable;
  sessions: SessionsTable;
}
