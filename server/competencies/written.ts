import { randomUUID } from 'node:crypto';
import type { Kysely, Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { Actor } from '../web/actor.ts';
import { Conflict } from '../web/errors.ts';
import type { EvidenceRule } from './evidence-rule.ts';
import { type Competency, requireCoordinator } from './queries.ts';

/** A competency as a coordinator writes it. */
export interface CompetencyDraft {
  readonly code: string;
  readonly title: string;
  readonly statement: string;
  readonly course: string;
  readonly rule: EvidenceRule;
  /** Why the rule is as it is; kept with it. */
  readonly reason: string;
  readonly itemIds: readonly number[];
}

/** Work that can count: graded runs and work on a shop engine, by sheet. */
export async function listCountable(db: Kysely<Database>, actor: Actor) {
  requireCoordinator(actor);
  return db
    .selectFrom('lab_sheet_items as item')
    .innerJoin('lab_sheets as sheet', 'sheet.id', 'item.lab_sheet_id')
    .leftJoin('people as maker', 'maker.id', 'sheet.made_by')
    .where((eb) => eb.or([eb('item.way', '=', 'graded-run'), eb('item.kind', '=', 'shop-engine')]))
    .where('item.removed_at', 'is', null)
    .where('sheet.archived_at', 'is', null)
    .select(['item.id', 'item.title', 'item.kind', 'sheet.title as sheetTitle', 'maker.family_name as maker'])
    .orderBy('sheet.id')
    .orderBy('item.ordinal')
    .execute();
}

/** Makes a competency with its first rule, in force from now on. `uuid` is kept where it comes from elsewhere. Throws Conflict for a code that is taken. */
export async function addCompetency(
  trx: Transaction<Database>,
  actor: Actor,
  draft: CompetencyDraft,
  at: string,
  uuid: string = randomUUID(),
): Promise<number> {
  requireCoordinator(actor);
  await refuseTwins(trx, draft.code, null);
  const { code, title, statement, course } = draft;
  const { id } = await trx
    .insertInto('competencies')
    .values({ ...{ uuid, code, title, statement, course }, created_at: at })
    .returning('id')
    .executeTakeFirstOrThrow();
  await keepVersion(trx, actor, id, 1, draft, at);
  await appendRule(trx, actor, id, 1, draft, at);
  return id;
}

/**
 * Writes a competency anew: changed words are a new version of it, a changed rule, or other
 * work that counts, a new version of the rule, in force from now on. Throws Conflict for a code that another has, or where somebody else changed it since `seen`, the versions of words and rule.
 */
export async function changeCompetency(
  trx: Transaction<Database>,
  actor: Actor,
  was: Competency,
  draft: CompetencyDraft,
  seen: string,
  at: string,
): Promise<void> {
  requireCoordinator(actor);
  if (seen !== seenOf(was))
    throw new Conflict(
      'Somebody changed this while it was open. Reload the page, look at it, and change it again.',
    );
  await refuseTwins(trx, draft.code, was.id);
  const { code, title, statement, course } = draft;
  const isNew =
    code !== was.code || title !== was.title || statement !== was.statement || course !== was.course;
  if (isNew) {
    const version = was.version + 1;
    await trx
      .updateTable('competencies')
      .set({ code, title, statement, course, version })
      .where('id', '=', was.id)
      .execute();
    await keepVersion(trx, actor, was.id, version, draft, at);
  }
  const last = was.rules.at(-1);
  const asRead = (rule: EvidenceRule | undefined, itemIds: readonly number[] = []) =>
    JSON.stringify([rule, [...itemIds].sort((one, other) => one - other)]);
  if (asRead(draft.rule, draft.itemIds) !== asRead(last?.rule, last?.itemIds))
    await appendRule(trx, actor, was.id, (last?.version ?? 0) + 1, draft, at);
}

/** What a page had seen when it was opened. */
export function seenOf(competency: Competency): string {
  return `${competency.version}.${competency.rules.at(-1)?.version ?? 0}`;
}

/** Takes a competency out of use, or back into it. All records stay. */
export async function setRetired(
  trx: Transaction<Database>,
  actor: Actor,
  id: number,
  at: string | null,
): Promise<void> {
  requireCoordinator(actor);
  await trx.updateTable('competencies').set({ retired_at: at }).where('id', '=', id).execute();
}

async function refuseTwins(trx: Transaction<Database>, code: string, but: number | null): Promise<void> {
  const twin = await trx.selectFrom('competencies').where('code', '=', code).select('id').executeTakeFirst();
  if (twin && twin.id !== but) throw new Conflict('Another competency has this code.');
}

async function keepVersion(
  trx: Transaction<Database>,
  actor: Actor,
  id: number,
  version: number,
  { code, title, statement, course }: CompetencyDraft,
  at: string,
): Promise<void> {
  const content = JSON.stringify({ code, title, statement, course });
  await trx
    .insertInto('competency_versions')
    .values({ competency_id: id, version, content, kept_by: actor.id, at })
    .execute();
}

async function appendRule(
  trx: Transaction<Database>,
  actor: Actor,
  id: number,
  version: number,
  { rule, reason, itemIds }: CompetencyDraft,
  at: string,
): Promise<void> {
  await trx
    .insertInto('evidence_rules')
    .values({
      ...{ competency_id: id, version, rule: JSON.stringify(rule) },
      ...{ items: JSON.stringify(itemIds), in_force_from: at, made_by: actor.id, reason },
    })
    .execute();
}
