import { fork } from 'node:child_process';
import { cpus } from 'node:os';
import { fileURLToPath } from 'node:url';
import { type Browser, chromium, type Page } from '@playwright/test';
import Database from 'better-sqlite3';
import { ENGINE_VERSION } from '../../server/engine/index.ts';
import { demoPassword } from '../support/agent.ts';
import { ChildServer } from '../support/child-server.ts';
import { foundChromium } from '../support/find-chromium.ts';
import { askFor, type Seat } from './barring.ts';

/**
 * The floor with forty students at work: how long after a step is answered does it stand on the instructor's page, in a real browser on the same
 * machine; and what watching costs the students, as a ratio to the same forty unwatched in the same run.
 */

const STUDENTS = 40;
const LOOKS = 12;

export async function floorLive(): Promise<void> {
  const server = new ChildServer();
  await server.start();
  const seats = fortyIn(server.databaseFile);
  const students = fork(fileURLToPath(new URL('./barring-students.ts', import.meta.url)), [server.url], {
    execArgv: ['--import', 'tsx'],
  });
  const browser = await chromium.launch({ executablePath: foundChromium() ?? chromium.executablePath() });
  try {
    const unwatched = await askFor(students, seats);
    const floor = await signedIn(browser, server.url, 'marchbanks');
    await floor.goto(`${server.url}/sections/1/floor`);
    const probe = await signedIn(browser, server.url, '003201');
    await probe.goto(`${server.url}/attempts/floor-probe`);
    // Asked again until the last look: a round of steps takes eight seconds.
    const watched = askFor(students, seats);
    const delays: number[] = [];
    for (let look = 0; look < LOOKS; look += 1) {
      // A step that followed the last change at once would always meet the same moment of the server's looking.
      await new Promise((resolve) => setTimeout(resolve, (look * 137) % 400));
      delays.push(await delayOf(probe, floor, 11 + look));
    }
    const round = await watched;
    const sorted = delays.sort((one, other) => one - other);
    const middle = sorted[Math.floor(sorted.length / 2)] ?? 0;
    console.log(
      `The floor, ${STUDENTS} students barring three steps a second, ${cpus().length} cores for server, students and browser together:`,
    );
    console.log(
      `  a step stands on the page ${middle.toFixed(0)} ms after its answer (median of ${LOOKS}; worst ${(sorted.at(-1) ?? 0).toFixed(0)} ms; goal: under 1000)`,
    );
    console.log(
      `  a student's step takes ${(round.meanMs / unwatched.meanMs).toFixed(2)} times as long as unwatched (${(100 * round.within100ms).toFixed(1)} % under 100 ms; ${(100 * unwatched.within100ms).toFixed(1)} % unwatched)`,
    );
  } finally {
    students.kill();
    await browser.close();
    await server.stop();
  }
}

async function signedIn(browser: Browser, url: string, name: string): Promise<Page> {
  const page = await (await browser.newContext()).newPage();
  await page.goto(`${url}/sign-in`);
  await page.getByLabel('Sign-in name').fill(name);
  await page.getByLabel('Password', { exact: true }).fill(demoPassword(name));
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.waitForURL((at) => !at.pathname.includes('sign-in'));
  return page;
}

/** One step of a known size, and the time from its answer to the moment it stands on the floor. */
async function delayOf(probe: Page, floor: Page, degrees: number): Promise<number> {
  // The page itself says when: asking it again and again would add the pauses between.
  const stood = floor.evaluate(`new Promise((resolve) => {
    const look = () => document.querySelector('#floor-4')?.textContent.includes('${degrees}°') && resolve(Date.now());
    new MutationObserver(look).observe(document.querySelector('#floor'), { childList: true, subtree: true, characterData: true });
  })`);
  const answered = await probe.evaluate(`(async () => {
    const bench = document.querySelector('#bench');
    window.next = window.next ?? Number(bench.dataset.next);
    const answer = await fetch('/attempts/floor-probe/actions', {
      method: 'POST',
      headers: { 'content-type': 'application/json', accept: 'application/json', 'x-csrf-token': bench.dataset.csrf },
      body: JSON.stringify({ from: window.next, actions: [{ type: 'bar', degrees: ${degrees}, speed: 20 }] }),
    });
    if (!answer.ok) throw new Error('the step was refused: ' + answer.status);
    window.next += 1;
    return Date.now();
  })()`);
  return Number(await stood) - Number(answered);
}

/** Forty students of section 1 with an attempt of their own, and the probe's. Their passwords are that of a demo student. */
function fortyIn(file: string): Seat[] {
  const database = new Database(file);
  const item = database
    .prepare(
      "SELECT id, definition FROM lab_sheet_items WHERE way = 'practice' AND definition LIKE '%cam-lift%'",
    )
    .get() as { id: number; definition: string };
  const lender = '003202';
  const { password_hash } = database
    .prepare('SELECT password_hash FROM people WHERE sign_in_name = ?')
    .get(lender) as {
    password_hash: string;
  };
  const person = database.prepare(
    "INSERT INTO people (role, given_name, family_name, sign_in_name, student_number, password_hash, created_at) VALUES ('student', ?, ?, ?, ?, ?, '2026-09-14T08:00:00.000Z')",
  );
  const seat = database.prepare(
    "INSERT INTO section_students VALUES (1, ?, '2026-09-14T08:00:00.000Z', NULL)",
  );
  const attempt = database.prepare(
    "INSERT INTO attempts (id, section_id, item_id, student_id, try_number, way, definition, seed, engine_version, started_at) VALUES (?, 1, ?, ?, 1, 'practice', ?, ?, ?, ?)",
  );
  const now = new Date().toISOString();
  attempt.run('floor-probe', item.id, 4, item.definition, 'floor-probe', ENGINE_VERSION, now);
  const seats = Array.from({ length: STUDENTS }, (_, n): Seat => {
    const name = `floor-${n}`;
    const id = person.run(`Given ${n}`, `Family ${n}`, name, name, password_hash).lastInsertRowid;
    seat.run(id);
    attempt.run(name, item.id, id, item.definition, name, ENGINE_VERSION, now);
    return { student: name, attempt: name, password: demoPassword(lender) };
  });
  database.close();
  return seats;
}
