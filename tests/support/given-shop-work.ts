import type { Store } from '../../server/database/open.ts';

/** An item of work on a shop engine on lab sheet 1, with a shop of one engine, an indicator G7 and a wrench W3. Gives the item's number. */
export async function givenShopItem({ db }: Store, at = '2026-09-01T09:00:00.000Z'): Promise<number> {
  const by = await personId({ db }, 'marchbanks');
  const { id: engineId } = await db
    .insertInto('shop_engines')
    .values({ added_by: by, added_at: at, archived_at: null })
    .returning('id')
    .executeTakeFirstOrThrow();
  const engine = {
    ...{ name: 'Inline six, left stand', number: 'E2', pumps: 6, firingOrder: [1, 5, 3, 6, 2, 4] },
    ...{ barring: '', unit: 'in', nominal: 0.214, lower: 0.21, upper: 0.218, source: 'Shop manual, page 31' },
    torques: [],
  };
  await db
    .insertInto('shop_engine_versions')
    .values({ engine_id: engineId, version: 1, content: JSON.stringify(engine), kept_by: by, at })
    .execute();
  for (const [kind, number] of [
    ['indicator', 'G7'],
    ['torque-wrench', 'W3'],
  ] as const)
    await db
      .insertInto('shop_gauges')
      .values({
        ...{ kind, number, what: 'as bought', when_overdue: 'warn', added_by: by, added_at: at },
        ...{ graduation: kind === 'indicator' ? 0.001 : null, unit: kind === 'indicator' ? 'in' : null },
        archived_at: null,
      })
      .execute();
  const { id } = await db
    .insertInto('lab_sheet_items')
    .values({
      ...{ lab_sheet_id: 1, ordinal: 90, title: 'On the shop engine', kind: 'shop-engine' },
      definition: JSON.stringify({
        ...{ kind: 'shop-engine', version: 1, prompts: 2, agreement: { unit: 'in', value: 0.001 } },
        steps: [{ text: 'Zero on the base circle', hold: false, alone: true }],
      }),
    })
    .returning('id')
    .executeTakeFirstOrThrow();
  return id;
}

/** A sign-off as the bench leaves it: signed by student and assessor, with gauge G7 and wrench W3, their checks due as given. */
export async function givenSignOff(
  { db }: Store,
  wanted: {
    readonly id: string;
    readonly signInName: string;
    readonly sectionId: number;
    readonly itemId: number;
    readonly at: string;
    readonly passed?: boolean;
    readonly assessor?: string;
    readonly dueOn?: string;
  },
): Promise<void> {
  const { id, sectionId, itemId, at, passed = true, assessor = 'marchbanks', dueOn = '2027-01-10' } = wanted;
  const student = await personId({ db }, wanted.signInName);
  const by = await personId({ db }, assessor);
  const gauges = await db.selectFrom('shop_gauges').selectAll().orderBy('id').execute();
  const taken = (kind: string) => {
    const one = gauges.find((gauge) => gauge.kind === kind);
    return one === undefined ? null : { id: one.id, number: one.number, what: one.what, dueOn };
  };
  await db
    .insertInto('sign_offs')
    .values({
      ...{ id, section_id: sectionId, item_id: itemId, student_id: student, barred_by: null, engine_id: 1 },
      ...{ engine_version: 1, position: 3, gauge_id: taken('indicator')?.id ?? null },
      ...{ wrench_id: taken('torque-wrench')?.id ?? null, reference: null, paper: null },
      work: JSON.stringify({
        ...{ kind: 'shop-engine', version: 1, prompts: 2, agreement: { unit: 'in', value: 0.001 } },
        steps: [{ text: 'Zero on the base circle', hold: false, alone: true }],
      }),
      gauges: JSON.stringify({ gauge: taken('indicator'), wrench: taken('torque-wrench') }),
      ...{ started_by: by, started_at: at },
    })
    .execute();
  const outcome = JSON.stringify({ passed, against: [], facts: [] });
  for (const [role, person] of [
    ['student', student],
    ['assessor', by],
  ] as const)
    await db
      .insertInto('sign_off_signatures')
      .values({
        ...{
          sign_off_id: id,
          role,
          person_id: person,
          client_id: `${id}-${role}`,
          made_at: at,
          arrived_at: at,
        },
        outcome: role === 'assessor' ? outcome : null,
      })
      .execute();
}

async function personId({ db }: Pick<Store, 'db'>, signInName: string): Promise<number> {
  const { id } = await db
    .selectFrom('people')
    .where('sign_in_name', '=', signInName)
    .select('id')
    .executeTakeFirstOrThrow();
  return id;
}
