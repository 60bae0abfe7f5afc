import type {
  CamLiftAction,
  CamLiftDefinition,
  CamLiftSheet,
  WrittenReading,
} from '../../server/engine/index.ts';
import type { Agent } from './agent.ts';
import type { TestApp } from './build.ts';
import { type Habits, type ObservedAttempt, observe } from './observer.ts';

/** A sheet as a person would type it: lengths with the gauge's decimals, blanks left out. */
export function typedAs(sheet: CamLiftSheet, places = 3): Record<string, string> {
  const typed: Record<string, string> = {};
  const write = (name: string, value: number | string | null, decimals?: number) => {
    if (value === null) return;
    typed[name] =
      typeof value === 'number' && decimals !== undefined ? value.toFixed(decimals) : String(value);
  };
  for (const lobe of sheet.lobes) {
    lobe.readings.forEach((reading: WrittenReading, index: number) => {
      const box = (name: string) => `${lobe.position}.${index + 1}.${name}`;
      write(box('counterBefore'), reading.counterBefore, 2);
      write(box('counterHigh'), reading.counterHigh, 2);
      write(box('turns'), reading.turns);
      write(box('pointer'), reading.pointer);
      write(box('lift'), reading.lift, places);
      write(box('returned'), reading.returned, places);
    });
    write(`${lobe.position}.lift`, lobe.lift, places + 1);
    write(`${lobe.position}.verdict`, lobe.verdict);
    write(`${lobe.position}.next`, lobe.next);
  }
  return typed;
}

export interface Driven {
  readonly attemptId: string;
  readonly observed: ObservedAttempt;
  /** The sheet as it was typed. */
  readonly typed: Readonly<Record<string, string>>;
  /** Every body that came back before the sheet was handed in, in order. */
  readonly bodies: readonly string[];
}

/** Starts an item as its student; gives the attempt's id. */
export async function startAttempt(agent: Agent, itemId: number): Promise<string> {
  const response = await agent.post(`/items/${itemId}/attempts`);
  const id = /^\/attempts\/([0-9a-f-]{36})$/.exec(String(response.headers.location))?.[1];
  if (id === undefined) throw new Error(`The attempt did not start: ${response.statusCode}`);
  return id;
}

/** The definition and seed an attempt was begun with, from the database: never from a page. */
export function hiddenOf(built: TestApp, attemptId: string): { definition: CamLiftDefinition; seed: string } {
  const row = built.store.raw
    .prepare<[string], { definition: string; seed: string }>(
      'SELECT definition, seed FROM attempts WHERE id = ?',
    )
    .get(attemptId);
  if (row === undefined) throw new Error(`There is no attempt ${attemptId}`);
  return { definition: JSON.parse(row.definition) as CamLiftDefinition, seed: row.seed };
}

/** Sends a log to the server in batches, as a page does. */
export async function sendActions(
  agent: Agent,
  attemptId: string,
  actions: readonly CamLiftAction[],
  from = 0,
): Promise<string[]> {
  const bodies: string[] = [];
  for (let at = 0; at < actions.length; at += 50) {
    const response = await agent.postJson(`/attempts/${attemptId}/actions`, {
      from: from + at,
      actions: actions.slice(at, at + 50),
    });
    if (response.statusCode !== 200)
      throw new Error(`Actions were refused: ${response.statusCode} ${response.body}`);
    bodies.push(response.body);
  }
  return bodies;
}

/** Works an item through from start to hand-in, as an observer with these habits would. */
export async function workThrough(
  built: TestApp,
  agent: Agent,
  itemId: number,
  habits: Habits = {},
): Promise<Driven> {
  const attemptId = await startAttempt(agent, itemId);
  const { definition, seed } = hiddenOf(built, attemptId);
  const observed = observe(definition, seed, habits);
  const places = definition.dial?.startsWith('metric') ? 2 : 3;
  const bodies = [(await agent.get(`/attempts/${attemptId}`)).body];
  bodies.push(...(await sendActions(agent, attemptId, observed.actions)));
  const typed = typedAs(observed.sheet, places);
  bodies.push((await agent.postJson(`/attempts/${attemptId}/draft`, { typed })).body);
  bodies.push((await agent.get(`/attempts/${attemptId}`)).body);
  bodies.push((await agent.post(`/attempts/${attemptId}/look-over`, typed)).body);
  bodies.push((await agent.get(`/attempts/${attemptId}/hand-in`)).body);
  const handedIn = await agent.post(`/attempts/${attemptId}/hand-in`);
  if (handedIn.headers.location !== `/attempts/${attemptId}/result`)
    throw new Error(`Not handed in: ${handedIn.statusCode}`);
  bodies.push(handedIn.body);
  return { attemptId, observed, typed, bodies };
}
