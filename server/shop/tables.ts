import type { Generated } from 'kysely';
import type { LengthUnit } from '../engine/index.ts';

export type GaugeKind = 'indicator' | 'torque-wrench';
/** What happens where somebody takes a gauge whose check is overdue. */
export type WhenOverdue = 'warn' | 'block';

export interface ShopTables {
  shop_engines: { id: Generated<number>; added_by: number; added_at: string; archived_at: string | null };
  shop_engine_versions: { engine_id: number; version: number; content: string; kept_by: number; at: string };
  shop_engine_work: { id: Generated<number>; engine_id: number; what: string; noted_by: number; at: string };
  shop_references: {
    id: Generated<number>;
    engine_id: number;
    position: number;
    unit: LengthUnit;
    first: number;
    second: number;
    third: number;
    gauge_id: number | null;
    taken_by: number;
    at: string;
  };
  shop_gauges: {
    id: Generated<number>;
    kind: GaugeKind;
    number: string;
    what: string;
    graduation: number | null;
    unit: LengthUnit | null;
    when_overdue: WhenOverdue;
    added_by: number;
    added_at: string;
    archived_at: string | null;
  };
  shop_gauge_checks: {
    id: Generated<number>;
    gauge_id: number;
    checked_on: string;
    passed: number;
    due_on: string;
    note: string;
    noted_by: number;
    at: string;
  };
}
