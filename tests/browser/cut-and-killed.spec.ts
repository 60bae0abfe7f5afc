import { expect, type Page, test } from '@playwright/test';
import Database from 'better-sqlite3';
import { demoPassword } from '../support/agent.ts';
import { ChildServer } from '../support/child-server.ts';

const server = new ChildServer();
test.beforeAll(() => server.start());
test.afterAll(() => server.stop());

interface Action {
  readonly type: string;
  readonly degrees?: number;
}

function logOf(attemptId: string): { seqs: number[]; actions: Action[] } {
  const database = new Database(server.databaseFile, { readonly: true });
  const rows = database
    .prepare('SELECT seq, action FROM attempt_actions WHERE attempt_id = ? ORDER BY seq')
    .all(attemptId) as { seq: number; action: string }[];
  database.close();
  return {
    seqs: rows.map(({ seq }) => seq),
    actions: rows.map(({ action }) => JSON.parse(action) as Action),
  };
}

async function atTheEngine(page: Page): Promise<string> {
  await page.goto(`${server.url}/sign-in`);
  await page.getByLabel('Sign-in name').fill('003201');
  await page.getByLabel('Password', { exact: true }).fill(demoPassword('003201'));
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByRole('button', { name: /^Start Practice engine A: practice/ }).click();
  await expect(page.locator('#bench')).toHaveAttribute('data-busy', 'false');
  return new URL(page.url()).pathname.split('/')[2] ?? '';
}

/** Every action the page was told is saved, in order. */
function acknowledged(page: Page): Action[] {
  const kept: Action[] = [];
  page.on('response', async (response) => {
    if (!response.url().endsWith('/actions') || !response.ok()) return;
    const { actions, from } = response.request().postDataJSON() as { actions: Action[]; from: number };
    actions.forEach((action, index) => {
      kept[from + index] = action;
    });
  });
  return kept;
}

const still = (page: Page) => page.locator('#bench[data-busy="false"]').waitFor({ state: 'attached' });

test('a barring run goes on through a cut network and a killed server, no action lost and none doubled', async ({
  page,
}) => {
  test.setTimeout(120_000);
  const id = await atTheEngine(page);
  const kept = acknowledged(page);
  const forward = page.getByRole('button', { name: 'Bar clockwise', exact: true });
  await forward.hover();

  // The button is held down throughout; meanwhile the server is killed outright and comes back.
  await page.mouse.down();
  await page.waitForTimeout(1500);
  await server.kill();
  await expect(page.locator('#save-state')).toContainText('not saved yet', { timeout: 20_000 });
  await server.start();
  await expect(page.locator('#save-state')).toHaveText('Saved.', { timeout: 20_000 });
  await page.waitForTimeout(3000);

  // Then the network goes for a while, still held.
  await page.context().setOffline(true);
  await expect(page.locator('#save-state')).toContainText('not saved yet', { timeout: 20_000 });
  await page.context().setOffline(false);
  await page.waitForTimeout(6000);
  await page.mouse.up();
  await still(page);
  await expect(page.locator('#save-state')).toHaveText('Saved.');

  const { seqs, actions } = logOf(id);
  expect(seqs).toEqual(seqs.map((_, index) => index));
  expect(actions.length).toBeGreaterThan(8);
  // What the page was told is saved is there, at its place; nothing else is.
  expect(actions).toEqual(kept);
  // The crank stands where the whole log takes it, in a page that has only the log to go by.
  const mark = await page.locator('[data-part="degrees"]').first().textContent();
  await page.reload();
  expect(await page.locator('[data-part="degrees"]').first().textContent()).toBe(mark);
  expect(actions.filter(({ type, degrees }) => type === 'bar' && degrees === 5).length).toBeGreaterThan(6);
});

test('an attempt is taken up on another device where it was left', async ({ page, browser }) => {
  await page.goto(`${server.url}/sign-in`);
  await page.getByLabel('Sign-in name').fill('003202');
  await page.getByLabel('Password', { exact: true }).fill(demoPassword('003202'));
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByRole('button', { name: /^Start Practice engine A: practice/ }).click();
  await page
    .getByRole('button', { name: /^Position \d$/ })
    .first()
    .click();
  await still(page);
  await page.locator('.lobe-boxes:visible').getByLabel('Turns').first().fill('2');
  await expect(page.locator('#save-state')).toHaveText('Saved.');

  const phone = await browser.newPage({ viewport: { width: 360, height: 740 } });
  await phone.goto(`${server.url}/sign-in`);
  await phone.getByLabel('Sign-in name').fill('003202');
  await phone.getByLabel('Password', { exact: true }).fill(demoPassword('003202'));
  await phone.getByRole('button', { name: 'Sign in' }).click();
  await phone.getByRole('link', { name: /^Go on with Practice engine A: practice/ }).click();
  await expect(phone.locator('.lobe-boxes:visible').getByLabel('Turns').first()).toHaveValue('2');
  await expect(phone.getByRole('button', { name: /^Position \d$/ }).first()).toHaveAttribute(
    'aria-pressed',
    'true',
  );
});
