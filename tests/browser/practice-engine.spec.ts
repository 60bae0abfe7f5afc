// What runs inside the page is written here too.
/// <reference lib="dom" />
import { expect, type Page, test } from '@playwright/test';
import { signInOnPage } from '../support/browser-sign-in.ts';
import { expectSound } from '../support/expect-sound.ts';
import { startServer, type TestServer } from '../support/server.ts';

let server: TestServer;
test.beforeAll(async () => {
  server = await startServer();
});
test.afterAll(() => server.stop());

const logged = (page: Page) =>
  (
    server.built.store.raw
      .prepare('SELECT action FROM attempt_actions WHERE attempt_id = ? ORDER BY seq')
      .all(new URL(page.url()).pathname.split('/')[2]) as { action: string }[]
  ).map(({ action }) => JSON.parse(action) as { type: string; degrees?: number; hold?: number });

const still = (page: Page) => page.locator('#bench[data-busy="false"]').waitFor({ state: 'attached' });

async function atTheEngine(page: Page, who: string): Promise<void> {
  await signInOnPage(page, server.url, who);
  await page.getByRole('button', { name: /^Start Practice engine A: practice/ }).click();
  await expect(page.locator('#bench')).toHaveAttribute('data-busy', 'false');
}

test('the engine is set up and barred by keyboard alone', async ({ page }) => {
  await atTheEngine(page, '003201');
  const press = async (name: string) => {
    const button = page.getByRole('button', { name, exact: true });
    // Reached as a person without a mouse reaches it: by Tab, from wherever one is.
    for (
      let n = 0;
      n < 60 && !(await button.evaluate((one) => one === one.ownerDocument.activeElement));
      n += 1
    )
      await page.keyboard.press('Tab');
    await expect(button).toBeFocused();
    await page.keyboard.press('Enter');
    await still(page);
  };
  const position =
    (await page
      .getByRole('button', { name: /^Position \d$/ })
      .first()
      .textContent()) ?? '';
  await press(position);
  await press('Seat the tappet');
  await press('Let the indicator down');
  await press('Turn bezel to zero');
  await press('Clamp the bezel');
  await expect(page.locator('#clamp')).toHaveText('Free the bezel');
  const degrees = page.locator('[data-part="degrees"]').first();
  const before = await degrees.textContent();
  await page.keyboard.press('.');
  await still(page);
  expect(await degrees.textContent()).not.toBe(before);
  await page.keyboard.down('ArrowRight');
  await page.waitForTimeout(900);
  await page.keyboard.up('ArrowRight');
  await still(page);
  const bars = logged(page).filter(({ type }) => type === 'bar');
  expect(bars.filter(({ degrees: by }) => by === 5).length).toBeGreaterThan(1);
  // Coming off the key lets go of the bar, once.
  expect(bars.filter(({ hold }) => hold === 0)).toHaveLength(1);
  await expect(page.locator('#barred')).toContainText('Barred since zero');
});

test('the button is held down to bar, either way, and stops when it comes up', async ({ page }) => {
  await atTheEngine(page, '003202');
  await page.getByText('fast, 60°/s').click();
  for (const [name, sign] of [
    ['Bar clockwise', 1],
    ['Bar back', -1],
  ] as const) {
    const before = logged(page).length;
    await page.getByRole('button', { name, exact: true }).hover();
    await page.mouse.down();
    await page.waitForTimeout(1800);
    await page.mouse.up();
    await still(page);
    const mine = logged(page).slice(before);
    expect(mine.filter(({ degrees }) => Math.sign(degrees ?? 0) === sign).length).toBeGreaterThan(1);
    expect(mine.at(-1)).toMatchObject({ type: 'bar', degrees: 0, hold: 0 });
    const after = logged(page).length;
    await page.waitForTimeout(500);
    expect(logged(page)).toHaveLength(after);
  }
});

test('what is typed and done outlives a lost connection and a reload, each action once', async ({ page }) => {
  await atTheEngine(page, '003203');
  const position =
    (await page
      .getByRole('button', { name: /^Position \d$/ })
      .first()
      .textContent()) ?? '';
  await page.getByRole('button', { name: position, exact: true }).click();
  await still(page);
  const done = logged(page).length;

  // The answer is lost on the way back: the server has the action, the page does not know.
  let lost = 0;
  await page.route('**/actions', async (route) => {
    if (lost > 0) return route.continue();
    lost += 1;
    await route.fetch();
    await route.abort();
  });
  await page.getByRole('button', { name: 'Seat the tappet', exact: true }).click();
  await still(page);
  expect(logged(page)).toHaveLength(done + 1);
  await page.unroute('**/actions');

  // No connection at all: an action and a number wait in the page.
  await page.context().setOffline(true);
  await page.getByRole('button', { name: 'Press on the rod', exact: true }).click();
  const lift = page
    .locator('.lobe-boxes:visible')
    .getByRole('group', { name: 'First reading' })
    .getByLabel('Lift');
  await lift.fill('0.237');
  await expect(page.locator('#save-state')).toContainText('not saved yet');
  await page.context().setOffline(false);
  await page.reload();
  await expect(
    page.locator('.lobe-boxes:visible').getByRole('group', { name: 'First reading' }).getByLabel('Lift'),
  ).toHaveValue('0.237');
  await expect.poll(() => logged(page).filter(({ type }) => type === 'press').length).toBe(1);
  await expect(page.locator('#save-state')).toHaveText('Saved.');
  await page.reload();
  await expect(
    page.locator('.lobe-boxes:visible').getByRole('group', { name: 'First reading' }).getByLabel('Lift'),
  ).toHaveValue('0.237');
  expect(logged(page).filter(({ type }) => type === 'press')).toHaveLength(1);
});

test('in practice help is asked by keyboard: what is next, and what is wrong so far', async ({ page }) => {
  await atTheEngine(page, '003205');
  const answer = page.locator('#help-answer');
  await page.getByRole('button', { name: 'What next?' }).focus();
  await page.keyboard.press('Enter');
  await expect(answer).toContainText('Still to be done');
  await expect(answer.locator('p')).toHaveCount(2);
  await expectSound(page, 'the next step told');
  await page.getByRole('button', { name: 'Check what I have' }).focus();
  await page.keyboard.press('Enter');
  await expect(answer).toContainText('Nothing to check yet');
  await page.setViewportSize({ width: 360, height: 740 });
  await page.keyboard.press('Enter');
  // In sight, above the bar at the thumb.
  const inSight = () =>
    answer.evaluate((shown) => {
      const bar = document.querySelector('.at-thumb')?.getBoundingClientRect();
      return shown.getBoundingClientRect().bottom <= (bar?.top ?? 0);
    });
  await expect.poll(inSight).toBe(true);
  await expectSound(page, 'what is wrong so far told');
});

test('a box that cannot be read is named, keeps what was typed, and is led to', async ({ page }) => {
  await atTheEngine(page, '003204');
  const lift = page
    .locator('.lobe-boxes:visible')
    .getByRole('group', { name: 'First reading' })
    .getByLabel('Lift');
  await lift.fill('237');
  await page.getByRole('button', { name: 'Look it over' }).click();
  await expect(page.getByText('Do you mean 0.237 in? Write it so.').first()).toBeVisible();
  const again = page
    .locator('.lobe-boxes:visible')
    .getByRole('group', { name: 'First reading' })
    .getByLabel('Lift');
  await expect(again).toHaveValue('237');
  await expect(again).toHaveAttribute('aria-invalid', 'true');
  await again.fill('0.237');
  await page.getByRole('button', { name: 'Look it over' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Look it over' })).toBeVisible();
  await expect(page.getByText('Still blank')).toBeVisible();
  await page.getByRole('link', { name: 'Back to the engine' }).click();
  await expect(
    page.locator('.lobe-boxes:visible').getByRole('group', { name: 'First reading' }).getByLabel('Lift'),
  ).toHaveValue('0.237');
});
