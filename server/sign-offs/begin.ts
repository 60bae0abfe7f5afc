import type { Kysely } from 'kysely';
import { z } from 'zod';
import type { Database } from '../database/tables.ts';
import { listAssignments, listSheetItems, type ShopWork } from '../labsheets/index.ts';
import { fitnessOf, listEngines, listGauges, type ShopGauge } from '../shop/index.ts';
import type { Problems, Values } from '../web/forms.ts';
import type { GaugeTaken } from './queries.ts';
import type { Beginning } from './write.ts';

const text = z.string().trim().default('');
export const beginForm = z.object({
  ...{ studentId: text, itemId: text, barredBy: text, engineId: text, gaugeId: text, wrenchId: text },
  ...{ paperBy: text, paperOn: text, position: text },
});

/** Work on a shop engine that is assigned to a section. The caller has made sure that the section is theirs. */
export async function listShopItems(db: Kysely<Database>, sectionId: number) {
  const assigned = await listAssignments(db, sectionId);
  const items = await Promise.all(assigned.map(({ sheetId }) => listSheetItems(db, sheetId)));
  return items
    .flat()
    .flatMap(({ id, title, kind, definition }) =>
      kind === 'shop-engine' && definition !== null
        ? [{ id, title, work: JSON.parse(definition) as ShopWork }]
        : [],
    );
}

/** What the form of a new sign-off chooses from. */
export async function choicesOf(db: Kysely<Database>, sectionId: number, day: string) {
  const there = <T extends { readonly archivedAt: string | null }>(list: readonly T[]) =>
    list.filter(({ archivedAt }) => archivedAt === null);
  const gauges = there(await listGauges(db)).map((gauge) => ({ ...gauge, fitness: fitnessOf(gauge, day) }));
  return {
    items: await listShopItems(db, sectionId),
    engines: there(await listEngines(db)),
    indicators: gauges.filter(({ kind }) => kind === 'indicator'),
    wrenches: gauges.filter(({ kind }) => kind === 'torque-wrench'),
  };
}

export type Choices = Awaited<ReturnType<typeof choicesOf>>;

/** Reads the form. `students` are those of the section. Problems are by field. */
export function readBeginning(
  form: z.output<typeof beginForm>,
  choices: Choices,
  students: readonly { readonly id: number }[],
  sectionId: number,
  at: string,
): { readonly beginning: Beginning | null; readonly problems: Problems } {
  const problems: Problems = {};
  const day = at.slice(0, 10);
  const among = <T extends { readonly id: number }>(list: readonly T[], id: string) =>
    list.find((one) => String(one.id) === id);
  const student = among(students, form.studentId);
  const item = among(choices.items, form.itemId);
  const engine = among(choices.engines, form.engineId);
  const barredBy = among(students, form.barredBy);
  if (!student) problems.studentId = 'Choose who reads.';
  if (!item) problems.itemId = 'Choose what is signed off.';
  if (!engine) problems.engineId = 'Choose the engine.';
  if (barredBy && barredBy.id === student?.id)
    problems.barredBy = 'Somebody else bars while the student reads.';
  const gauge = among(choices.indicators, form.gaugeId);
  const wrench = among(choices.wrenches, form.wrenchId);
  for (const [name, taken] of [
    ['gaugeId', gauge],
    ['wrenchId', wrench],
  ] as const) {
    const fitness = taken === undefined ? null : fitnessOf(taken, day);
    if (fitness?.use === 'block') problems[name] = `${fitness.why} Take another.`;
  }
  const isPaper = form.paperBy !== '' || form.paperOn !== '';
  const position = Number(form.position);
  if (isPaper) {
    if (form.paperBy === '') problems.paperBy = 'Write who signed it on paper.';
    if (!/^\d{4}-\d{2}-\d{2}$/.test(form.paperOn) || form.paperOn > day)
      problems.paperOn = 'Choose the day it was signed.';
    if (!(Number.isInteger(position) && position >= 1 && position <= (engine?.pumps ?? 0)))
      problems.position = 'Write the pump position on the sheet.';
  }
  if (!student || !item || !engine || Object.keys(problems).length > 0) return { beginning: null, problems };
  return {
    problems,
    beginning: {
      ...{ sectionId, itemId: item.id, studentId: student.id, barredBy: barredBy?.id ?? null, engine, at },
      ...{ gaugeId: gauge?.id ?? null, wrenchId: wrench?.id ?? null },
      ...{ gauge: taken(gauge, engine.unit, day), wrench: taken(wrench, null, day), work: item.work },
      paper: isPaper ? { signedBy: form.paperBy.slice(0, 80), signedOn: form.paperOn, position } : null,
    },
  };
}

function taken(gauge: ShopGauge | undefined, unit: 'in' | 'mm' | null, day: string): GaugeTaken | null {
  if (gauge === undefined) return null;
  const fitness = fitnessOf(gauge, day);
  const { number, what, dueOn } = gauge;
  return {
    ...{ number, what, dueOn },
    graduation: unit !== null && gauge.unit === unit ? gauge.graduation : null,
    warning: fitness.use === 'free' ? null : fitness.why,
  };
}

/** The first choices of the form: the only one there is, where there is only one. */
export function firstChoices({ items, engines, indicators, wrenches }: Choices): Values {
  const only = (list: readonly { readonly id: number }[]) => (list.length === 1 ? String(list[0]?.id) : '');
  return {
    itemId: only(items),
    engineId: only(engines),
    gaugeId: only(indicators),
    wrenchId: only(wrenches),
  };
}
