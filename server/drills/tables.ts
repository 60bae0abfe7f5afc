export interface DrillsTables {
  drill_rounds: {
    id: string;
    student_id: number;
    dials: number;
    started_at: string;
  };
  drill_dials: {
    round_id: string;
    number: number;
    skill: string | null;
    definition: string;
    seed: string;
    engine_version: string;
    at: string;
  };
  drill_actions: {
    round_id: string;
    number: number;
    seq: number;
    action: string;
    at: string;
  };
  drill_answers: {
    round_id: string;
    number: number;
    typed: string;
    sheet: string;
    action_count: number;
    engine_version: string;
    grade: string;
    observations: string;
    dial: string;
    shown_graduations: number;
    written_graduations: number;
    at: string;
  };
}
