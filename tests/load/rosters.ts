import { parse } from 'csv-parse/sync';
import { confirmed } from '../server/sections/load-roster.ts';
import { type Agent, signIn } from '../support/agent.ts';
import { type TestApp, testApp } from '../support/build.ts';

const ROWS = 2000;
const ROUNDS = 5;

function list(round: number): string {
  const lines = Array.from(
    { length: ROWS },
    (_, n) => `Given ${n},Family ${n},r${round}-${n},s${n}@students.example`,
  );
  return `given_name,family_name,student_number,email\n${lines.join('\n')}\n`;
}

/** A roster of 2 000 read, shown, confirmed and kept, against its bare parsing and as many bare inserts. */
export async function rosters(): Promise<void> {
  const built = await testApp();
  const agent = await signIn(built.app, 'marchbanks');
  const ratios: number[] = [];
  const seconds: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    const bare = inserted(built, list(round));
    const whole = await loaded(agent, list(round + ROUNDS));
    ratios.push(whole / bare);
    seconds.push(whole / 1000);
  }
  await built.close();
  const middle = (values: number[]) =>
    [...values].sort((one, other) => one - other)[Math.floor(values.length / 2)] ?? 0;
  console.log(
    `  a roster of ${ROWS}, shown and taken   ${middle(ratios).toFixed(1)} times parsing it and inserting as many rows; ${middle(seconds).toFixed(2)} s here (goal: under 2 s)`,
  );
}

function inserted({ store }: TestApp, text: string): number {
  const from = performance.now();
  const rows = parse(text, { columns: true }) as Record<string, string>[];
  const insert = store.raw.prepare(
    "INSERT INTO people (role, given_name, family_name, sign_in_name, student_number, email, created_at) VALUES ('student', ?, ?, ?, ?, ?, '2026-09-14T08:00:00.000Z')",
  );
  store.raw.transaction(() => {
    for (const row of rows)
      insert.run(row.given_name, row.family_name, row.student_number, row.student_number, row.email);
  })();
  return performance.now() - from;
}

async function loaded(agent: Agent, pasted: string): Promise<number> {
  const from = performance.now();
  const answer = await confirmed(agent, await agent.post('/sections/1/roster', { pasted }));
  if (!answer.body.includes(`<dd>${ROWS}</dd>`))
    throw new Error(`the roster was not taken: ${answer.statusCode}`);
  return performance.now() - from;
}
