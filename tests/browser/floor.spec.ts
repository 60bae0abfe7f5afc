import { expect, test } from '@playwright/test';
import { signIn } from '../support/agent.ts';
import { signInOnPage } from '../support/browser-sign-in.ts';
import { givenAttempt } from '../support/given-attempt.ts';
import { startServer, type TestServer } from '../support/server.ts';

const OPEN = 'ffffffff-1111-4000-8000-000000000001';
const HIGH = 'ffffffff-1111-4000-8000-000000000002';

let server: TestServer;
test.beforeAll(async () => {
  server = await startServer();
  const own = { sectionId: 1, itemId: 2, at: server.built.clock().toISOString(), open: true };
  await givenAttempt(server.built.store, { ...own, id: OPEN, signInName: '003201', seed: 'floor-1' });
  await givenAttempt(server.built.store, { ...own, id: HIGH, signInName: '003202', seed: 'floor-2' });
});
test.afterAll(() => server.stop());

for (const width of [360, 1440])
  test(`the floor changes by itself, at ${width} px, and a call is answered`, async ({ page }) => {
    await page.setViewportSize({ width, height: 800 });
    await signInOnPage(page, server.url, 'marchbanks');
    await page.goto(`${server.url}/sections/1/floor`);
    await expect(page.locator('#floor-connection')).toHaveText('Live.');
    await expect(page.locator('#floor-5')).toContainText('working');
    const first = page.locator('.floor-row').first();
    await expect(first).not.toContainText('waiting');

    // Somebody else's browser: nothing is done on this page.
    const student = await signIn(server.built.app, '003202');
    await student.post(`/attempts/${HIGH}/call`);
    await expect(first).toContainText('waiting', { timeout: 2000 });
    await expect(first).toContainText('Ålund, Jørgen');
    await expect(page.locator('#floor-news')).toContainText('Ålund, Jørgen');
    const wide = await page.locator('html').evaluate((html) => html.scrollWidth - html.clientWidth);
    expect(wide).toBe(0);
    await page.getByRole('button', { name: 'I am coming to Ålund, Jørgen' }).click();
    await expect(page.locator('#floor-5')).toContainText('working');
  });

test('the floor says when it has lost the server, and takes up again', async ({ page }) => {
  await signInOnPage(page, server.url, 'marchbanks');
  await page.route('**/floor/events', (route) => route.abort());
  await page.goto(`${server.url}/sections/1/floor`);
  await expect(page.locator('#floor-connection')).toContainText('No connection');
  await page.unroute('**/floor/events');
  await expect(page.locator('#floor-connection')).toHaveText('Live.', { timeout: 15_000 });
});
