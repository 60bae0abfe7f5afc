import { readdirSync } from 'node:fs';
import { test } from '@playwright/test';
import { signInOnPage } from '../support/browser-sign-in.ts';
import { startServer } from '../support/server.ts';
test('look', async ({ browser }) => {
  test.setTimeout(500000);
  const server = await startServer();
  const s = await (await browser.newContext()).newPage();
  await signInOnPage(s, server.url, '003201');
  for (const slug of readdirSync('lessons', { withFileTypes: true }).filter((e) => e.isDirectory()).map((e) => e.name)) {
    await s.setViewportSize({ width: 360, height: 800 });
    await s.goto(`${server.url}/lessons/${slug}`);
    await s.screenshot({ path: `/tmp/figs/L-${slug}.png`, fullPage: true });
    await s.setViewportSize({ width: 720, height: 960 });
    await s.emulateMedia({ media: 'print' });
    await s.screenshot({ path: `/tmp/figs/P-${slug}.png`, fullPage: true });
    await s.emulateMedia({ media: 'screen' });
  }
  await server.stop();
});
