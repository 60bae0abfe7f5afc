import type { Generated } from 'kysely';

export type ItemKind = 'lesson' | 'practice-engine';
export type Way = 'practice' | 'graded-run';

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
}

export interface LabSheetsTables {
  lab_sheets: {
    id: Generated<number>;
    title: string;
    introduction: string;
    created_at: string;
  };
  lab_sheet_items: LabSheetItemsTable;
  assignments: {
    section_id: number;
    lab_sheet_id: number;
    assigned_at: string;
    assigned_by: number | null;
  };
}
