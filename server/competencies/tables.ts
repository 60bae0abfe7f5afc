import type { Generated } from 'kysely';

export interface CompetenciesTables {
  competencies: {
    id: Generated<number>;
    uuid: string;
    code: string;
    title: string;
    created_at: string;
  };
  evidence_rules: {
    id: Generated<number>;
    competency_id: number;
    version: number;
    rule: string;
    in_force_from: string;
  };
  competency_items: {
    competency_id: number;
    item_id: number;
  };
}
