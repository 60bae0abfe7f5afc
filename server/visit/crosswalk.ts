import type { Kysely } from 'kysely';
import type { Competency } from '../competencies/index.ts';
import type { Database } from '../database/tables.ts';

/** Where a competency is taught, practised and assessed: titles of items with their sheets. */
export interface CrosswalkRow {
  readonly code: string;
  readonly title: string;
  readonly taught: readonly string[];
  readonly practised: readonly string[];
  /** On practice engines, and on shop engines. */
  readonly assessed: readonly string[];
  readonly assessedInShop: readonly string[];
}

/**
 * Task by taught, practised, assessed. What a rule counts is where it is assessed; the lessons and the practice on the same lab sheets are where it is
 * taught and practised. For coordinators.
 */
export async function crosswalk(
  db: Kysely<Database>,
  competencies: readonly Competency[],
): Promise<readonly CrosswalkRow[]> {
  const items = await db
    .selectFrom('lab_sheet_items as item')
    .innerJoin('lab_sheets as sheet', 'sheet.id', 'item.lab_sheet_id')
    .where('item.removed_at', 'is', null)
    .select([
      'item.id',
      'item.title',
      'item.kind',
      'item.way',
      'sheet.id as sheetId',
      'sheet.title as sheetTitle',
    ])
    .orderBy('sheet.id')
    .orderBy('item.ordinal')
    .execute();
  return competencies.map((one) => {
    const counting = new Set(one.rules.find(({ version }) => version === one.ruleVersion)?.itemIds ?? []);
    const sheets = new Set(items.filter(({ id }) => counting.has(id)).map(({ sheetId }) => sheetId));
    const named = (isWanted: (item: (typeof items)[number]) => boolean) =>
      items.filter(isWanted).map(({ title, sheetTitle }) => `${title} (${sheetTitle})`);
    const near = ({ sheetId }: (typeof items)[number]) => sheets.has(sheetId);
    return {
      ...{ code: one.code, title: one.title },
      taught: named((item) => near(item) && (item.kind === 'lesson' || item.kind === 'question-set')),
      practised: named((item) => near(item) && item.way === 'practice'),
      assessed: named((item) => counting.has(item.id) && item.kind === 'practice-engine'),
      assessedInShop: named((item) => counting.has(item.id) && item.kind === 'shop-engine'),
    };
  });
}
