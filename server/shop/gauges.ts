import type { Kysely, Transaction } from 'kysely';
import { z } from 'zod';
import type { Database } from '../database/tables.ts';
import type { LengthUnit } from '../engine/index.ts';
import type { Actor } from '../web/actor.ts';
import { Conflict, NotFound } from '../web/errors.ts';
import type { GaugeKind, WhenOverdue } from './tables.ts';

/** An indicator or a torque wrench, with how it stands with its checks. */
export interface ShopGauge {
  readonly id: number;
  readonly kind: GaugeKind;
  readonly number: string;
  readonly what: string;
  readonly graduation: number | null;
  readonly unit: LengthUnit | null;
  readonly whenOverdue: WhenOverdue;
  readonly archivedAt: string | null;
  /** Days as `2026-11-27`; null while it was never checked. */
  readonly checkedOn: string | null;
  readonly dueOn: string | null;
  readonly passed: boolean | null;
}

/** How a gauge may be used on a day: freely, with a warning, or not at all. */
export type Fitness = { readonly use: 'free' } | { readonly use: 'warn' | 'block'; readonly why: string };

/** May it be used on `day` (`2026-11-27`)? One that failed its check never is; one that is overdue, as it was set. */
export function fitnessOf(gauge: ShopGauge, day: string): Fitness {
  if (gauge.passed === false) return { use: 'block', why: `It failed its check on ${gauge.checkedOn}.` };
  if (gauge.dueOn === null) return { use: gauge.whenOverdue, why: 'No check of it is written down.' };
  if (gauge.dueOn < day) return { use: gauge.whenOverdue, why: `Its check was due on ${gauge.dueOn}.` };
  return { use: 'free' };
}

const number = z.string().trim().min(1, 'Write its number.').max(40, 'Write at most 40 letters.');
const what = z.string().trim().min(1, 'Write what it is.').max(120, 'Write at most 120 letters.');
export const gaugeForm = z.object({
  kind: z.enum(['indicator', 'torque-wrench'], 'Choose what it is.'),
  number,
  what,
  graduation: z
    .string()
    .trim()
    .default('')
    .refine(
      (text) => text === '' || (/^\d*[.,]?\d+$/.test(text) && Number(text.replace(',', '.')) > 0),
      'Write what one mark is worth, for example 0.001.',
    ),
  unit: z.enum(['in', 'mm']).catch('in'),
  whenOverdue: z.enum(['warn', 'block']).catch('warn'),
});
const day = z.string().regex(/^\d{4}-\d{2}-\d{2}$/, 'Choose a day.');
export const checkForm = z
  .object({
    checkedOn: day,
    dueOn: day,
    passed: z.enum(['yes', 'no'], 'Say whether it passed.'),
    note: z.string().trim().max(200, 'Write at most 200 letters.').default(''),
  })
  .refine(({ checkedOn, dueOn }) => dueOn > checkedOn, {
    path: ['dueOn'],
    message: 'The next check lies after this one.',
  });

/** The gauges and wrenches of the shop, by number. Every instructor sees them. */
export async function listGauges(db: Kysely<Database>): Promise<readonly ShopGauge[]> {
  const order = new Intl.Collator('en', { numeric: true });
  return (await gauges(db).execute())
    .map(toGauge)
    .sort(
      (one, other) =>
        Number(one.archivedAt !== null) - Number(other.archivedAt !== null) ||
        order.compare(one.number, other.number),
    );
}

/** One of them. Throws NotFound. */
export async function getGauge(db: Kysely<Database>, id: number): Promise<ShopGauge> {
  const row = await gauges(db).where('gauge.id', '=', id).executeTakeFirst();
  if (!row) throw new NotFound();
  return toGauge(row);
}

function gauges(db: Kysely<Database>) {
  return db
    .selectFrom('shop_gauges as gauge')
    .leftJoin('shop_gauge_checks as check', (join) =>
      join.on('check.id', '=', (eb) =>
        eb
          .selectFrom('shop_gauge_checks as c')
          .whereRef('c.gauge_id', '=', 'gauge.id')
          .select((max) => max.fn.max('c.id').as('id')),
      ),
    )
    .selectAll('gauge')
    .select(['check.checked_on', 'check.due_on', 'check.passed']);
}

function toGauge(row: Awaited<ReturnType<ReturnType<typeof gauges>['execute']>>[number]): ShopGauge {
  return {
    id: row.id,
    kind: row.kind,
    number: row.number,
    what: row.what,
    graduation: row.graduation,
    unit: row.unit,
    whenOverdue: row.when_overdue,
    archivedAt: row.archived_at,
    checkedOn: row.checked_on,
    dueOn: row.due_on,
    passed: row.passed === null ? null : row.passed === 1,
  };
}

/** Writes a gauge down, or changes it. Throws Conflict for a number another of its kind goes by. */
export async function keepGauge(
  trx: Transaction<Database>,
  actor: Actor,
  id: number | null,
  form: z.output<typeof gaugeForm>,
  at: string,
): Promise<number> {
  const twin = (await listGauges(trx)).find(
    (one) => one.id !== id && one.kind === form.kind && one.number === form.number,
  );
  if (twin) throw new Conflict(`“${twin.what}” goes by that number. Choose another.`);
  const isIndicator = form.kind === 'indicator';
  const values = {
    kind: form.kind,
    number: form.number,
    what: form.what,
    graduation: isIndicator && form.graduation !== '' ? Number(form.graduation.replace(',', '.')) : null,
    unit: isIndicator ? form.unit : null,
    when_overdue: form.whenOverdue,
  };
  if (id !== null) {
    await trx.updateTable('shop_gauges').set(values).where('id', '=', id).execute();
    return id;
  }
  const made = await trx
    .insertInto('shop_gauges')
    .values({ ...values, added_by: actor.id, added_at: at })
    .returning('id')
    .executeTakeFirstOrThrow();
  return made.id;
}

export async function archiveGauge(trx: Transaction<Database>, id: number, at: string | null): Promise<void> {
  await trx.updateTable('shop_gauges').set({ archived_at: at }).where('id', '=', id).execute();
}

/** Notes a check of a gauge. */
export async function noteCheck(
  trx: Transaction<Database>,
  actor: Actor,
  gaugeId: number,
  form: z.output<typeof checkForm>,
  at: string,
): Promise<void> {
  await trx
    .insertInto('shop_gauge_checks')
    .values({
      gauge_id: gaugeId,
      checked_on: form.checkedOn,
      due_on: form.dueOn,
      passed: form.passed === 'yes' ? 1 : 0,
      note: form.note,
      noted_by: actor.id,
      at,
    })
    .execute();
}

/** The checks of a gauge, newest first. */
export function listChecks(db: Kysely<Database>, gaugeId: number) {
  return db
    .selectFrom('shop_gauge_checks as check')
    .innerJoin('people as person', 'person.id', 'check.noted_by')
    .where('check.gauge_id', '=', gaugeId)
    .selectAll('check')
    .select(['person.given_name', 'person.family_name'])
    .orderBy('check.id', 'desc')
    .execute();
}
