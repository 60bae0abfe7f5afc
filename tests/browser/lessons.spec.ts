// What runs inside the page is written here too.
/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import { readdirSync } from 'node:fs';
import { expect, type Locator, type Page, test } from '@playwright/test';
import { fromRoot } from '../../server/root.ts';
import { signInOnPage } from '../support/browser-sign-in.ts';
import { expectSound } from '../support/expect-sound.ts';
import { startServer, type TestServer } from '../support/server.ts';

const LESSONS = readdirSync(fromRoot('lessons'), { withFileTypes: true })
  .filter((entry) => entry.isDirectory())
  .map(({ name }) => name)
  .sort();

let server: TestServer;
let page: Page;
test.beforeAll(async ({ browser }) => {
  server = await startServer();
  const context = await browser.newContext({
    viewport: { width: 360, height: 740 },
    reducedMotion: 'reduce',
  });
  page = await context.newPage();
  await signInOnPage(page, server.url, '003201');
});
test.afterAll(async () => {
  await page.context().close();
  await server.stop();
});

/** How a figure looks now, its drawings, its dial, its read-outs and what it says, cut to a number that can be printed. */
const looks = (figure: Locator) =>
  figure.evaluate((element) => {
    const parts = '.figure-drawings, .figure-dial, .figure-reads, .figure-told, .figure-said';
    const text = [...element.querySelectorAll(parts)].map((part) => part.outerHTML).join('');
    let sum = 0;
    for (const letter of text) sum = (sum * 31 + (letter.codePointAt(0) ?? 0)) % 4_294_967_291;
    return sum;
  });

/** Figures come to rest a while after they were moved. */
async function expectOther(figure: Locator, before: number, what: string): Promise<void> {
  await expect.poll(() => looks(figure), { message: what }).not.toBe(before);
}

for (const slug of LESSONS) {
  test(`the figures of ${slug} are worked by keyboard and by mouse, and print`, async () => {
    test.setTimeout(120_000);
    const problems: string[] = [];
    const note = (error: Error) => problems.push(error.message);
    page.on('pageerror', note);
    await page.goto(`${server.url}/lessons/${slug}`);
    await expectSound(page, slug);
    const figures = page.locator('live-figure');
    expect(await figures.count()).toBeGreaterThan(0);
    for (const figure of await figures.all()) {
      await byKeyboard(figure);
      await byMouse(figure);
    }
    await page.emulateMedia({ media: 'print' });
    for (const figure of await figures.all()) {
      await expect(figure.locator('svg').first()).toBeVisible();
      await expect(figure.locator('.figure-controls')).toBeHidden();
    }
    await page.emulateMedia({ media: 'screen' });
    expect(problems).toEqual([]);
    page.off('pageerror', note);
  });
}

/** Every slider and list with keys alone, every button by Enter. */
async function byKeyboard(figure: Locator): Promise<void> {
  for (const control of await figure.locator('[data-control]').all()) {
    const before = await looks(figure);
    await control.focus();
    const tag = await control.evaluate((element) => element.tagName);
    const name = (await control.getAttribute('data-control')) ?? '';
    if (tag === 'SELECT') await control.press('ArrowDown');
    else for (let times = 0; times < 4; times += 1) await control.press(times < 3 ? 'PageUp' : 'ArrowLeft');
    await expectOther(figure, before, `${name} by keys`);
  }
  for (const button of await figure.locator('[data-press]').all()) {
    await button.focus();
    await button.press('Enter');
  }
}

/** Sliders dragged, buttons clicked. */
async function byMouse(figure: Locator): Promise<void> {
  for (const slider of await figure.locator('input[type=range]').all()) {
    await slider.scrollIntoViewIfNeeded();
    const box = await slider.boundingBox();
    if (box === null) throw new Error('a slider without a place');
    const before = await looks(figure);
    const value = await slider.inputValue();
    const at = (share: number) => [box.x + box.width * share, box.y + box.height / 2] as const;
    const from = await slider.evaluate((element) => {
      const { min, max, value: now } = element as HTMLInputElement;
      return (Number(now) - Number(min)) / (Number(max) - Number(min));
    });
    await page.mouse.move(...at(0.04 + from * 0.92));
    await page.mouse.down();
    await page.mouse.move(...at(from > 0.5 ? 0.2 : 0.8), { steps: 4 });
    await page.mouse.up();
    if ((await slider.inputValue()) !== value) await expectOther(figure, before, 'a slider dragged');
  }
  const buttons = figure.locator('[data-press]:not([aria-disabled="true"])');
  if ((await buttons.count()) > 0) await buttons.first().click();
}
