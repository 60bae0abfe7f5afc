import { expect, type Page, test } from '@playwright/test';
import { carefulHands } from '../../server/demonstrations/index.ts';
import { KIND_NAMES, type KindName } from '../../server/engine/index.ts';
import { canBegin } from '../../server/kinds/index.ts';
import { signInOnPage } from '../support/browser-sign-in.ts';
import { smallWork } from '../support/every-kind-items.ts';
import { expectSound } from '../support/expect-sound.ts';
import { type Hand, KeyHand, MouseHand } from '../support/page-hand.ts';
import { ScreenHands } from '../support/screen-hands.ts';
import { startServer, type TestServer } from '../support/server.ts';

// Each worker has a server of its own, and each test an item of its own.
test.describe.configure({ mode: 'parallel' });

/** Every kind once by mouse in one unit and once by keyboard alone in the other. */
const RUNS = KIND_NAMES.filter(canBegin).flatMap((kind, index) => {
  const units = index % 2 === 0 ? (['in', 'mm'] as const) : (['mm', 'in'] as const);
  return [
    { kind, way: 'mouse', unit: units[0], itemId: 700 + 2 * index },
    { kind, way: 'keyboard', unit: units[1], itemId: 701 + 2 * index },
  ] as const;
});
type Run = (typeof RUNS)[number];

const titleOf = ({ kind, way }: Run) => `Every kind: ${kind}, by ${way}`;

let server: TestServer;
/** One seed an attempt, put down before it is begun. */
const seeds: string[] = [];

test.beforeAll(async () => {
  server = await startServer({ seeds });
  const insert = server.built.store.raw.prepare(
    `INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, way, tries, definition)
     VALUES (?, 1, ?, ?, 'practice-engine', 'graded-run', 1, ?)`,
  );
  for (const run of RUNS)
    insert.run(run.itemId, run.itemId, titleOf(run), JSON.stringify(smallWork(run.kind, run.unit)));
});
test.afterAll(() => server.stop());

/** Signed in once a server: a name that signs in every few seconds is made to wait. */
let signedIn: Parameters<ReturnType<Page['context']>['addCookies']>[0] = [];

async function signIn(page: Page): Promise<void> {
  await page.clock.install();
  await page.context().addCookies(signedIn);
  if (signedIn.length === 0) await signInOnPage(page, server.url, '003201');
  else await page.goto(server.url);
  await expect(page.getByRole('heading', { level: 1, name: 'Lab sheets' })).toBeVisible();
  signedIn = await page.context().cookies();
}

/** Nothing of it is wider than the smallest phone. */
async function expectFits(page: Page, where: string): Promise<void> {
  const size = page.viewportSize();
  await page.setViewportSize({ width: 360, height: 740 });
  const over = await page.locator('html').evaluate((html) => html.scrollWidth - html.clientWidth);
  expect(over, `${where} scrolls sideways at 360 px`).toBe(0);
  if (size !== null) await page.setViewportSize(size);
}

/** Begins the item, works its bench with careful hands, looks the sheet over and hands it in. */
async function workThrough<K extends KindName>(
  page: Page,
  hand: Hand,
  { kind, itemId }: { readonly kind: K; readonly itemId: number },
  lookedAt: (where: string) => Promise<void>,
): Promise<void> {
  seeds.push(`every-kind-${itemId}`);
  await hand.press({ css: `form[action="/items/${itemId}/attempts"] button` });
  await expect(page.locator('#bench')).toBeVisible();
  await lookedAt('the bench before anything is done');
  const hands = new ScreenHands<K>(page, hand, kind);
  await hands.work(carefulHands(kind), () => lookedAt('the bench in the middle'));
  expect(hands.done).toBeGreaterThan(6);
  await hand.press({ css: '#sheet .actions button' });
  await expect(page.getByRole('heading', { level: 1, name: 'Look it over' })).toBeVisible();
  await expect(page.getByText('Still blank')).toBeHidden();
  await lookedAt('the sheet looked over');
  await hand.press({ css: 'form[action$="/hand-in"] button' });
  await page.waitForURL(/\/result$/);
}

function storedGrade(page: Page): { points: number; stops: number; remarks: readonly unknown[] } {
  const id = new URL(page.url()).pathname.split('/')[2];
  const row = server.built.store.raw
    .prepare<[string | undefined], { grade: string }>('SELECT grade FROM grades WHERE attempt_id = ?')
    .get(id);
  const { total, stops, remarks } = JSON.parse(row?.grade ?? '{}');
  return { points: total, stops: stops.length, remarks };
}

for (const run of RUNS) {
  test(`${run.kind} is worked on its page by ${run.way} alone for full points, ${run.unit}`, async ({
    page,
  }) => {
    test.setTimeout(120_000);
    const faults: string[] = [];
    page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
    page.on('pageerror', (error) => faults.push(error.message));
    await page.setViewportSize({ width: 1280, height: 900 });
    await signIn(page);
    const hand = run.way === 'mouse' ? new MouseHand(page) : new KeyHand(page);
    // One step of the report: thousands of them under no other cost the runner a quarter of a minute.
    await test.step('the work', () =>
      workThrough(page, hand, run, async (where) => {
        if (run.way !== 'mouse') return;
        await expectSound(page, `${run.kind}: ${where}`);
        await expectFits(page, `${run.kind}: ${where}`);
      }));
    if (run.way === 'mouse') {
      await expectSound(page, `${run.kind}: the result`);
      await expectFits(page, `${run.kind}: the result`);
    }
    expect(storedGrade(page)).toEqual({ points: 100, stops: 0, remarks: [] });
    await expect(page.locator('main')).toContainText('100 of 100');
    expect(faults).toEqual([]);
  });
}

test('every kind of exercise can be begun', () => {
  expect(KIND_NAMES.filter((kind) => !canBegin(kind))).toEqual([]);
});
