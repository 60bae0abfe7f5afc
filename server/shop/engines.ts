import type { Kysely, Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';
import type { LengthUnit } from '../engine/index.ts';
import type { Actor } from '../web/actor.ts';
import { Conflict, NotFound } from '../web/errors.ts';
import type { ShopEngineContent } from './engine-form.ts';
import { type Reference, type ReferenceState, referenceOf, referenceState } from './reference.ts';

export interface ShopEngine extends ShopEngineContent {
  readonly id: number;
  readonly version: number;
  readonly archivedAt: string | null;
  /** When it was last worked on; null for never since it was written down. */
  readonly workedOnAt: string | null;
}

/** What is known of a lobe's lift. */
export interface LobeReference {
  readonly position: number;
  readonly reference: Reference | null;
  readonly state: ReferenceState;
}

/** Where a gauge says nothing of its graduation, one mark of the usual dial is taken. */
export const USUAL_GRADUATION: Readonly<Record<LengthUnit, number>> = { in: 0.001, mm: 0.01 };

/** The engines of the shop, by number; those no longer there last. Every instructor sees them: they stand in one shop. */
export async function listEngines(db: Kysely<Database>): Promise<readonly ShopEngine[]> {
  const order = new Intl.Collator('en', { numeric: true });
  const rows = await newest(db).execute();
  return rows
    .map(toEngine)
    .sort(
      (one, other) =>
        Number(one.archivedAt !== null) - Number(other.archivedAt !== null) ||
        order.compare(one.number, other.number),
    );
}

/** One of them. Throws NotFound. */
export async function getEngine(db: Kysely<Database>, id: number): Promise<ShopEngine> {
  const row = await newest(db).where('engine.id', '=', id).executeTakeFirst();
  if (!row) throw new NotFound();
  return toEngine(row);
}

function newest(db: Kysely<Database>) {
  return db
    .selectFrom('shop_engines as engine')
    .innerJoin('shop_engine_versions as version', (join) =>
      join.onRef('version.engine_id', '=', 'engine.id').on('version.version', '=', (eb) =>
        eb
          .selectFrom('shop_engine_versions as v')
          .whereRef('v.engine_id', '=', 'engine.id')
          .select((max) => max.fn.max('v.version').as('n')),
      ),
    )
    .select((eb) => [
      'engine.id',
      'engine.archived_at',
      'version.version',
      'version.content',
      eb
        .selectFrom('shop_engine_work as work')
        .whereRef('work.engine_id', '=', 'engine.id')
        .select((max) => max.fn.max('work.at').as('at'))
        .as('workedOnAt'),
    ]);
}

type Row = Awaited<ReturnType<ReturnType<typeof newest>['execute']>>[number];

function toEngine(row: Row): ShopEngine {
  return {
    ...(JSON.parse(row.content) as ShopEngineContent),
    id: row.id,
    version: row.version,
    archivedAt: row.archived_at,
    workedOnAt: row.workedOnAt,
  };
}

/** Writes an engine down, or its next version. Throws Conflict for a number another engine goes by. */
export async function keepEngine(
  trx: Transaction<Database>,
  actor: Actor,
  given: { readonly id: number | null; readonly content: ShopEngineContent; readonly at: string },
): Promise<number> {
  const { content, at } = given;
  const twin = (await listEngines(trx)).find(
    (one) => one.id !== given.id && one.archivedAt === null && one.number === content.number,
  );
  if (twin) throw new Conflict(`“${twin.name}” goes by that number. Choose another.`);
  const id =
    given.id ??
    (
      await trx
        .insertInto('shop_engines')
        .values({ added_by: actor.id, added_at: at })
        .returning('id')
        .executeTakeFirstOrThrow()
    ).id;
  const version = given.id === null ? 1 : (await getEngine(trx, id)).version + 1;
  await trx
    .insertInto('shop_engine_versions')
    .values({ engine_id: id, version, content: JSON.stringify(content), kept_by: actor.id, at })
    .execute();
  return id;
}

/** Takes an engine out of the lists, or puts it back. Nothing of it is lost. */
export async function archiveEngine(
  trx: Transaction<Database>,
  id: number,
  at: string | null,
): Promise<void> {
  await trx.updateTable('shop_engines').set({ archived_at: at }).where('id', '=', id).execute();
}

/** Notes work on an engine; its references hold no longer. */
export async function noteWork(
  trx: Transaction<Database>,
  actor: Actor,
  given: { readonly engineId: number; readonly what: string; readonly at: string },
): Promise<void> {
  await trx
    .insertInto('shop_engine_work')
    .values({ engine_id: given.engineId, what: given.what, noted_by: actor.id, at: given.at })
    .execute();
}

/** Keeps what three set-ups gave for a lobe. A spread too wide is kept too, and does not hold. */
export async function keepReference(
  trx: Transaction<Database>,
  actor: Actor,
  given: {
    readonly engineId: number;
    readonly position: number;
    readonly unit: LengthUnit;
    readonly readings: readonly [number, number, number];
    readonly gaugeId: number | null;
    readonly at: string;
  },
): Promise<void> {
  const [first, second, third] = given.readings;
  await trx
    .insertInto('shop_references')
    .values({
      engine_id: given.engineId,
      position: given.position,
      unit: given.unit,
      ...{ first, second, third },
      gauge_id: given.gaugeId,
      taken_by: actor.id,
      at: given.at,
    })
    .execute();
}

/** What is known of each lobe of an engine at `now`, by pump position. Only for those who assess: it is what a student has to find. */
export async function listReferences(
  db: Kysely<Database>,
  engine: ShopEngine,
  now: string,
): Promise<readonly LobeReference[]> {
  const rows = await db
    .selectFrom('shop_references as reference')
    .leftJoin('shop_gauges as gauge', 'gauge.id', 'reference.gauge_id')
    .where('reference.engine_id', '=', engine.id)
    .selectAll('reference')
    .select(['gauge.graduation', 'gauge.unit as gaugeUnit'])
    .orderBy('reference.id')
    .execute();
  const found = new Map<number, Reference>();
  for (const { position, unit, first, second, third, at, graduation, gaugeUnit } of rows) {
    const mark = graduation !== null && gaugeUnit === unit ? graduation : USUAL_GRADUATION[unit];
    found.set(position, referenceOf({ unit, readings: [first, second, third], at }, mark));
  }
  return Array.from({ length: engine.pumps }, (_, index): LobeReference => {
    const reference = found.get(index + 1) ?? null;
    return { position: index + 1, reference, state: referenceState(reference, engine.workedOnAt, now) };
  });
}
