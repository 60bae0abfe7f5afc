import { type Browser, expect, type Page, test } from '@playwright/test';
import { parse } from 'csv-parse/sync';
import { generateBench } from '../../server/engine/index.ts';
import { ONE_RUN, ruleInForce } from '../server/support/rule-in-force.ts';
import { demoPassword } from '../support/agent.ts';
import { ScreenStudent } from '../support/screen-student.ts';
import { startServer, type TestServer } from '../support/server.ts';

let server: TestServer;
test.beforeAll(async () => {
  server = await startServer({ seeds: seedsWithOneBadLobe(2) });
  await ruleInForce(server.built.store, 2, ONE_RUN, '2026-09-01T00:00:00.000Z');
});
test.afterAll(() => server.stop());

/** Seeds whose engine has one bad lobe among those to be measured, so that "inside" twice would not do. */
function seedsWithOneBadLobe(wanted: number): string[] {
  const definition = {
    kind: 'cam-lift',
    version: 1,
    cylinders: 6,
    dial: 'inch-0.001-1',
    positions: 2,
  } as const;
  const seeds: string[] = [];
  for (let n = 0; seeds.length < wanted; n += 1) {
    const bench = generateBench(definition, `end-to-end-${n}`);
    const bad = bench.positions.filter((position) => bench.lobes[position - 1]?.state !== 'sound');
    if (bad.length === 1) seeds.push(bench.seed);
  }
  return seeds;
}

async function signIn(browser: Browser, name: string): Promise<{ page: Page; faults: string[] }> {
  const page = await browser.newPage({ viewport: { width: 1280, height: 1000 } });
  const faults: string[] = [];
  page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
  page.on('pageerror', (error) => faults.push(error.message));
  await page.clock.install();
  await page.goto(`${server.url}/sign-in`);
  await page.getByLabel('Sign-in name').fill(name);
  await page.getByLabel('Password', { exact: true }).fill(demoPassword(name));
  await page.getByRole('button', { name: 'Sign in' }).click();
  return { page, faults };
}

/** Starts the graded run on the inch engine, works it, and hands it in. */
async function gradedRun(page: Page, student: ScreenStudent): Promise<void> {
  await page.getByRole('button', { name: /^Start Practice engine A: graded run/ }).click();
  await expect(page.getByText('graded run, try 1 of 3')).toBeVisible();
  await student.workTheSheet();
  await page.getByRole('button', { name: 'Look it over' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Look it over' })).toBeVisible();
  await expect(page.getByText('Still blank')).toBeHidden();
  await page.getByRole('button', { name: 'Hand in' }).click();
  await expect(page.getByRole('heading', { level: 2, name: 'Points' })).toBeVisible();
}

test('two students measure lobes, their instructor sees how, and the record holds the one who can', async ({
  browser,
}) => {
  test.setTimeout(400_000);
  const first = await signIn(browser, '003201');
  const second = await signIn(browser, '003202');

  let dropped = 0;
  const dropsATurn = new ScreenStudent(second.page, {
    write: (read, position) => {
      dropped ||= position;
      return position === dropped ? { ...read, turns: read.turns - 1, lift: read.lift - 0.1 } : read;
    },
  });
  // Side by side, as in a class; neither hinders the other.
  await gradedRunsTogether([
    gradedRun(first.page, new ScreenStudent(first.page)),
    gradedRun(second.page, dropsATurn),
  ]);

  await expect(first.page.locator('main')).toContainText('100 of 100');
  await expect(second.page.locator('main')).toContainText(
    new RegExp(`osition ${dropped}[^]*one turn of the pointer was not counted`),
  );
  await expect(second.page.locator('main')).not.toContainText('100 of 100');
  expect(first.faults).toEqual([]);
  expect(second.faults).toEqual([]);

  const instructor = await signIn(browser, 'marchbanks');
  await instructor.page.getByRole('link', { name: 'Fuel systems, section A' }).click();
  await instructor.page.getByRole('link', { name: 'Ålund, Jørgen' }).click();
  await instructor.page.getByRole('link', { name: /^Graded/ }).click();
  await expect(instructor.page.locator('main')).toContainText('one turn of the pointer was not counted');
  await expect(instructor.page.locator('attempt-replay').first()).toBeVisible();
  expect(instructor.faults).toEqual([]);

  const coordinator = await signIn(browser, 'vossberg');
  await expect(coordinator.page.locator('main')).toContainText('Measures injection-cam lift');
  await expect(coordinator.page.locator('main')).toContainText('practice part met 1');
  await coordinator.page.getByRole('link', { name: 'Measures injection-cam lift' }).click();
  await coordinator.page.getByRole('link', { name: 'Export IC-LIFT' }).click();
  await coordinator.page.getByLabel('For whom').fill('Northgate Diesel');
  await coordinator.page.getByLabel('What for').fill('asked for by the student');
  const download = coordinator.page.waitForEvent('download');
  await coordinator.page.getByRole('button', { name: 'Download' }).click();
  const stream = await (await download).createReadStream();
  const chunks: Buffer[] = [];
  for await (const chunk of stream) chunks.push(chunk as Buffer);
  const rows = parse(Buffer.concat(chunks), { bom: true, columns: true }) as Record<string, string>[];
  expect(rows.map((row) => row.family_name)).toEqual(['Okereke']);
  expect(rows[0]?.student_number?.replace(/^'/, '')).toBe('003201');
  expect(coordinator.faults).toEqual([]);
});

/** Waits for all, and fails with the first fault only after the others have come to rest. */
async function gradedRunsTogether(runs: readonly Promise<void>[]): Promise<void> {
  const results = await Promise.allSettled(runs);
  for (const result of results) if (result.status === 'rejected') throw result.reason;
}
