import { type ChildProcess, fork } from 'node:child_process';
import { cpus } from 'node:os';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { ENGINE_VERSION } from '../../server/engine/index.ts';
import { ChildServer } from '../support/child-server.ts';

/**
 * How many students can bar at once: each sends three steps a second, every one on disk before it is answered. The server runs in one process,
 * the students in another. What is reported is the share answered within 100 ms at each number of students, and the mean time
 * of a step when the server is all but idle.
 */

export interface Round {
  readonly students: number;
  readonly steps: number;
  readonly within100ms: number;
  readonly meanMs: number;
  readonly p99Ms: number;
  readonly failed: number;
  /** Of one core, what the students themselves took: it is missing to the server where cores are few. */
  readonly ownCore: number;
}

const ROUNDS = [1, 20, 50, 100, 200, 400, 700, 1000];
const ENOUGH = 0.99;
/** More students than at such a round need not be tried. */
const HOPELESS = 0.9;

export async function barringLoad(): Promise<void> {
  const server = new ChildServer();
  await server.start();
  const seats = seatsIn(server.databaseFile, Math.max(...ROUNDS));
  console.log(
    `Barring: three steps a second a student, ${cpus().length} cores, students in a process of their own on the same machine:`,
  );
  const students = fork(fileURLToPath(new URL('./barring-students.ts', import.meta.url)), [server.url], {
    execArgv: ['--import', 'tsx'],
  });
  try {
    let held = 0;
    for (const count of ROUNDS) {
      const round = await askFor(students, seats.slice(0, count));
      console.log(
        `  ${String(count).padStart(5)} at once: ${(100 * round.within100ms).toFixed(1)} % under 100 ms, mean ${round.meanMs.toFixed(1)} ms, 99 % under ${round.p99Ms.toFixed(0)} ms, ${round.steps} steps, students on ${(100 * round.ownCore).toFixed(0)} % of a core${round.failed > 0 ? `, ${round.failed} failed` : ''}`,
      );
      if (round.failed > 0 || round.within100ms < HOPELESS) break;
      if (round.within100ms >= ENOUGH) held = count;
    }
    console.log(`  held: ${held} students at once (goal: 1000)`);
  } finally {
    students.kill();
    await server.stop();
  }
}

export interface Seat {
  readonly student: string;
  readonly attempt: string;
  readonly password?: string;
}

/** Attempts at the demo program's cam-lift practice, shared out among its students. */
function seatsIn(file: string, count: number): Seat[] {
  const database = new Database(file);
  const item = database
    .prepare(
      "SELECT id, definition FROM lab_sheet_items WHERE way = 'practice' AND definition LIKE '%cam-lift%'",
    )
    .get() as { id: number; definition: string };
  const people = database
    .prepare(
      'SELECT person_id AS person, section_id AS section, sign_in_name AS name FROM section_students JOIN people ON people.id = person_id',
    )
    .all() as { person: number; section: number; name: string }[];
  const insert = database.prepare(
    "INSERT INTO attempts (id, section_id, item_id, student_id, try_number, way, definition, seed, engine_version, started_at) VALUES (?, ?, ?, ?, ?, 'practice', ?, ?, ?, '2026-09-14T08:00:00.000Z')",
  );
  const seats = Array.from({ length: count }, (_, index): Seat => {
    const { person, section, name } = people[index % people.length] ?? { person: 0, section: 0, name: '' };
    const attempt = `load-${index}`;
    insert.run(
      attempt,
      section,
      item.id,
      person,
      index + 1,
      item.definition,
      `load-${index}`,
      ENGINE_VERSION,
    );
    return { student: name, attempt };
  });
  database.close();
  return seats;
}

export function askFor(students: ChildProcess, seats: readonly Seat[]): Promise<Round> {
  return new Promise((resolve, reject) => {
    students.once('message', (round) => resolve(round as Round));
    students.once('error', reject);
    students.send(seats);
  });
}
