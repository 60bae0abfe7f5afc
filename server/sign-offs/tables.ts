import type { Generated } from 'kysely';

/** What an assessor puts down for a step. */
export type StepState = 'alone' | 'with-prompt' | 'not-done' | 'not-seen';
/** What a student does: done, or ready to be looked at. */
export type StudentMark = 'done' | 'ready';
export type SigningRole = 'student' | 'assessor' | 'countersigned';

interface Arrival {
  readonly client_id: string;
  /** By the clock of the phone. */
  readonly made_at: string;
  readonly arrived_at: string;
}

export interface SignOffsTables {
  sign_offs: {
    id: string;
    section_id: number;
    item_id: number;
    student_id: number;
    barred_by: number | null;
    engine_id: number;
    engine_version: number;
    position: number;
    gauge_id: number | null;
    wrench_id: number | null;
    work: string;
    gauges: string;
    reference: string | null;
    paper: string | null;
    started_by: number;
    started_at: string;
  };
  sign_off_ticks: Arrival & {
    id: Generated<number>;
    sign_off_id: string;
    step: number;
    state: StepState | StudentMark;
    note: string;
    person_id: number;
  };
  sign_off_readings: Arrival & {
    id: Generated<number>;
    sign_off_id: string;
    typed: string;
    person_id: number;
  };
  sign_off_signatures: Arrival & {
    id: Generated<number>;
    sign_off_id: string;
    role: SigningRole;
    person_id: number;
    outcome: string | null;
  };
  sign_off_photos: {
    id: Generated<number>;
    sign_off_id: string;
    step: number | null;
    type: string;
    bytes: Uint8Array;
    person_id: number;
    at: string;
  };
}
