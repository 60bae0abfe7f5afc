import { expect, type Page, test } from '@playwright/test';
import { KIND_NAMES } from '../../server/engine/index.ts';
import { signInOnPage } from '../support/browser-sign-in.ts';
import { smallWork } from '../support/every-kind-items.ts';
import { expectSound } from '../support/expect-sound.ts';
import { startServer, type TestServer } from '../support/server.ts';

const ITEM = 850;
/** Reading dials and finding a fault have nothing but the dial to look at: of the set-up to be judged nothing more is shown. */
const WITHOUT_WORK = ['dial-reading', 'fault-finding'];

let server: TestServer;
test.beforeAll(async () => {
  server = await startServer();
  const insert = server.built.store.raw.prepare(
    `INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, way, tries, definition)
     VALUES (?, 1, ?, ?, 'practice-engine', 'graded-run', 3, ?)`,
  );
  KIND_NAMES.forEach((kind, at) => {
    insert.run(ITEM + at, ITEM + at, `Seen: ${kind}`, JSON.stringify(smallWork(kind, 'in')));
  });
});
test.afterAll(() => server.stop());

const stepShown = (page: Page) => page.locator('.log-line[aria-current="step"]').getAttribute('id');

test('every kind of work plays itself, step by step, the drawing of the work with it', async ({ page }) => {
  test.setTimeout(180_000);
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(error.message));
  await page.setViewportSize({ width: 1440, height: 900 });
  await signInOnPage(page, server.url, '003201');
  for (const [at, kind] of KIND_NAMES.entries()) {
    await page.goto(`${server.url}/items/${ITEM + at}/demonstration`);
    const work = page.locator('#replay-work');
    await expect(work).toHaveCount(WITHOUT_WORK.includes(kind) ? 0 : 1);
    await expectSound(page, `${kind}, seen done`);
    const first = await stepShown(page);
    const drawings = new Set<string>();
    const stepOn = page.getByRole('button', { name: 'Step on' });
    await stepOn.focus();
    const steps = await page.locator('.log-line').count();
    for (let press = 0; press < Math.min(3 * steps, 16); press += 1) {
      await page.keyboard.press('Enter');
      if (!WITHOUT_WORK.includes(kind)) drawings.add(await work.innerHTML());
    }
    expect(await stepShown(page), `${kind}: another step is pointed out`).not.toBe(first);
    if (!WITHOUT_WORK.includes(kind)) expect(drawings.size, `${kind}: the work moves`).toBeGreaterThan(2);
    // Played from the start it goes on by itself, once the words of the step have been read; with a dial and without one.
    if (kind !== 'cam-lift' && kind !== 'torque-adapter') continue;
    await page.locator('#replay-at').fill('0');
    await page.getByRole('button', { name: 'Play' }).click();
    await expect.poll(() => page.locator('#replay-at').inputValue(), { timeout: 15_000 }).not.toBe('0');
    await page.getByRole('button', { name: 'Pause' }).click();
  }
  expect(faults).toEqual([]);
});
