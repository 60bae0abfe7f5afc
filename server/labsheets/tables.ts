import type { Generated } from 'kysely';

export type ItemKind = 'lesson' | 'question-set' | 'practice-engine' | 'shop-engine';
export type Way = 'practice' | 'graded-run';
/** Which of several tries counts in the score. */
export type Counts = 'best' | 'last';

export interface LabSheetItemsTable {
  id: Generated<number>;
  lab_sheet_id: number;
  ordinal: number;
  title: string;
  kind: ItemKind;
  lesson_slug: string | null;
  way: Way | null;
  definition: string | null;
  tries: number | null;
  share: Generated<number>;
  hints: Generated<number>;
  removed_at: string | null;
}

export interface LabSheetsTables {
  lab_sheets: {
    id: Generated<number>;
    title: string;
    introduction: string;
    created_at: string;
    made_by: number | null;
    version: Generated<number>;
    archived_at: string | null;
    weights: string | null;
  };
  lab_sheet_versions: {
    lab_sheet_id: number;
    version: number;
    content: string;
    kept_by: number;
    at: string;
  };
  lab_sheet_items: LabSheetItemsTable;
  assignments: {
    section_id: number;
    lab_sheet_id: number;
    assigned_at: string;
    assigned_by: number | null;
    due_at: string | null;
    late_percent: Generated<number>;
    late_days: number | null;
    counts: Generated<Counts>;
  };
  extensions: {
    id: Generated<number>;
    section_id: number;
    lab_sheet_id: number;
    person_id: number;
    due_at: string;
    reason: string;
    given_by: number;
    at: string;
  };
  further_tries: {
    id: Generated<number>;
    section_id: number;
    item_id: number;
    student_id: number;
    attempt_id: string;
    reason: string;
    given_by: number;
    at: string;
  };
}
