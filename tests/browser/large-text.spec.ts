// What runs inside the page is written here too.
/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import { expect, type Page, test } from '@playwright/test';
import { KIND_NAMES } from '../../server/engine/index.ts';
import config from '../playwright.config.ts';
import { signInOnPage } from '../support/browser-sign-in.ts';
import { smallWork } from '../support/every-kind-items.ts';
import { startServer, type TestServer } from '../support/server.ts';

// The reader's own setting, as a phone has it: the page is not told.
const { launchOptions } = config.use ?? {};
test.use({ launchOptions: { ...launchOptions, args: ['--blink-settings=defaultFontSize=32'] } });

/** Text twice as large on the smallest phone: every stop of the keyboard comes in the order it is read in, is seen to have the focus, and lies under nothing. */

const ITEM = 800;

let server: TestServer;
test.beforeAll(async () => {
  server = await startServer();
  const insert = server.built.store.raw.prepare(
    `INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, way, tries, definition)
     VALUES (?, 1, ?, ?, 'practice-engine', 'practice', NULL, ?)`,
  );
  KIND_NAMES.forEach((kind, at) => {
    insert.run(ITEM + at, ITEM + at, `Large: ${kind}`, JSON.stringify(smallWork(kind, 'in')));
  });
});
test.afterAll(() => server.stop());

/** One stop of the keyboard as it stands on the screen; null when the focus has left the page. */
interface Stop {
  readonly what: string;
  readonly place: number;
  readonly isShown: boolean;
  readonly isCovered: boolean;
  /** Upper and lower edge on the page; null for what keeps its place on the screen. */
  readonly edges: { readonly top: number; readonly bottom: number } | null;
}

function stopHere(): Stop | null {
  const active = document.activeElement;
  if (!(active instanceof HTMLElement || active instanceof SVGElement) || active === document.body)
    return null;
  // A choice is a small box in a label, and it is the label that is drawn.
  const drawn = active.matches('input[type="radio"], input[type="checkbox"]')
    ? (active.closest('label') ?? active)
    : active;
  const box = drawn.getBoundingClientRect();
  const style = getComputedStyle(active);
  const points = [0.5, 0.1, 0.9].flatMap((x) =>
    [0.5, 0.1, 0.9].map((y) => [box.left + box.width * x, box.top + box.height * y] as const),
  );
  const isSeenAt = ([x, y]: readonly [number, number]) => {
    const hit = document.elementFromPoint(x, y);
    return hit !== null && (drawn.contains(hit) || hit.contains(drawn));
  };
  let staysPut = false;
  for (let one: Element | null = drawn; one !== null; one = one.parentElement)
    staysPut ||= ['fixed', 'sticky'].includes(getComputedStyle(one).position);
  return {
    edges: staysPut ? null : { top: box.top + window.scrollY, bottom: box.bottom + window.scrollY },
    what: `${active.localName}${active.id === '' ? '' : `#${active.id}`} “${(active.textContent ?? '').trim().slice(0, 30)}”`,
    place: [...document.querySelectorAll('*')].indexOf(active),
    isShown:
      active.matches(':focus-visible') && (style.outlineStyle !== 'none' || style.boxShadow !== 'none'),
    isCovered: !points.some(isSeenAt),
  };
}

async function expectWalked(page: Page, where: string): Promise<void> {
  const wide = await page.locator('html').evaluate((html) => html.scrollWidth - html.clientWidth);
  expect.soft(wide, `${where} scrolls sideways`).toBe(0);
  const stops: Stop[] = [];
  for (let press = 0; press < 220; press += 1) {
    await page.keyboard.press('Tab');
    const stop = await page.evaluate(stopHere);
    if (stop === null || stops.some(({ place }) => place === stop.place)) break;
    stops.push(stop);
  }
  const flowing = stops.filter(({ edges }) => edges !== null);
  const upwards = flowing.filter(
    ({ edges }, at) => (edges?.bottom ?? 0) <= (flowing[at - 1]?.edges?.top ?? Number.NEGATIVE_INFINITY),
  );
  expect.soft(upwards, `${where}: the focus jumps up the page`).toEqual([]);
  expect.soft(stops.length, `${where} has stops`).toBeGreaterThan(4);
  expect
    .soft(
      stops.filter(({ isShown }) => !isShown),
      `${where}: no focus seen`,
    )
    .toEqual([]);
  expect
    .soft(
      stops.filter(({ isCovered }) => isCovered),
      `${where}: focus under something`,
    )
    .toEqual([]);
}

test('with text twice as large every stop is seen, in order, on the smallest phone', async ({ page }) => {
  test.setTimeout(240_000);
  await page.setViewportSize({ width: 360, height: 740 });
  await page.goto(`${server.url}/sign-in`);
  await expectWalked(page, 'signing in');
  await signInOnPage(page, server.url, '003201');
  for (const [at, kind] of KIND_NAMES.entries()) {
    await page.goto(`${server.url}/items/${ITEM + at}/demonstration`);
    await expectWalked(page, `${kind}, seen done`);
    await page.goto(server.url);
    await page.locator(`form[action="/items/${ITEM + at}/attempts"] button`).click();
    await expect(page.locator('#bench')).toBeVisible();
    await expectWalked(page, `the bench of ${kind}`);
    await page.locator('#sheet .actions button').click();
    await expect(page.getByRole('heading', { level: 1, name: 'Look it over' })).toBeVisible();
    await page.locator('form[action$="/hand-in"] button').click();
    await page.waitForURL(/\/result$/);
    await expectWalked(page, `the result of ${kind}`);
  }
});
