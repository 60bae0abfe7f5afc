import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { type Page, test } from '@playwright/test';
import { carefulHands } from '../../server/demonstrations/index.ts';
import { KIND_NAMES, type KindName } from '../../server/engine/index.ts';
import { fromRoot } from '../../server/root.ts';
import { signInOnPage } from '../support/browser-sign-in.ts';
import { smallWork } from '../support/every-kind-items.ts';
import { MouseHand } from '../support/page-hand.ts';
import { ScreenHands } from '../support/screen-hands.ts';
import { startServer, type TestServer } from '../support/server.ts';

/**
 * Takes pictures of the real pages while careful hands work them: with a folder in PICTURES, every kind half-way, done and graded at
 * three widths, for looking at; without, the ones in README. No test: nothing is expected here.
 */

const WIDTHS = [360, 820, 1440];
const ITEM = 700;

/** The pictures of README: what, at which moment, how wide and high. */
const README_PICTURES = [
  { kind: 'cam-lift', moment: 'middle', width: 1440, height: 1120, as: 'bench' },
  { kind: 'cam-lift', moment: 'result', width: 1440, height: 1200, as: 'result' },
  { kind: 'backlash', moment: 'middle', width: 360, height: 740, as: 'phone' },
] as const;

type Moment = 'demonstration' | 'middle' | 'end' | 'result';
type Take = (page: Page, kind: KindName, moment: Moment) => Promise<void>;

const toFolder =
  (folder: string): Take =>
  async (page, kind, moment) => {
    for (const width of WIDTHS) {
      await page.setViewportSize({ width, height: width === 360 ? 740 : 900 });
      await new Promise((resolve) => setTimeout(resolve, 250));
      const path = join(folder, `${kind}-${moment}-${width}.png`);
      await page.screenshot({ path, fullPage: moment !== 'demonstration' });
    }
    await page.setViewportSize({ width: 1280, height: 900 });
  };

const toReadme: Take = async (page, kind, moment) => {
  for (const one of README_PICTURES) {
    if (one.kind !== kind || one.moment !== moment) continue;
    await page.setViewportSize({ width: one.width, height: one.height });
    await page.evaluate('window.scrollTo(0, 0)');
    await new Promise((resolve) => setTimeout(resolve, 400));
    await page.screenshot({ path: fromRoot('views', 'pictures', `${one.as}.png`) });
    await page.setViewportSize({ width: 1280, height: 900 });
  }
};

/** Signed in once a server: a name that signs in every few seconds is made to wait. */
let signedIn: Parameters<ReturnType<Page['context']>['addCookies']>[0] = [];

async function work(page: Page, server: TestServer, kind: KindName, item: number, take: Take): Promise<void> {
  await page.setViewportSize({ width: 1280, height: 900 });
  await page.clock.install();
  await page.context().addCookies(signedIn);
  if (signedIn.length === 0) await signInOnPage(page, server.url, '003201');
  signedIn = await page.context().cookies();
  await page.goto(`${server.url}/items/${item}/demonstration`);
  await take(page, kind, 'demonstration');
  await page.goto(server.url);
  const hand = new MouseHand(page);
  await hand.press({ css: `form[action="/items/${item}/attempts"] button` });
  await page.locator('#bench').waitFor();
  await new ScreenHands<KindName>(page, hand, kind).work(carefulHands<KindName>(kind), () =>
    take(page, kind, 'middle'),
  );
  await take(page, kind, 'end');
  await hand.press({ css: '#sheet .actions button' });
  await page.getByRole('heading', { level: 1, name: 'Look it over' }).waitFor();
  await hand.press({ css: 'form[action$="/hand-in"] button' });
  await page.waitForURL(/\/result$/);
  await take(page, kind, 'result');
}

const folder = process.env.PICTURES;
const wanted = KIND_NAMES.filter(
  (kind) => folder !== undefined || README_PICTURES.some((one) => one.kind === kind),
);

let server: TestServer;
test.beforeAll(async () => {
  mkdirSync(folder ?? fromRoot('views', 'pictures'), { recursive: true });
  server = await startServer();
  const insert = server.built.store.raw.prepare(
    `INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, way, tries, definition)
     VALUES (?, 1, ?, ?, 'practice-engine', 'practice', NULL, ?)`,
  );
  wanted.forEach((kind, at) => {
    const definition = smallWork(kind, at % 2 === 0 ? 'in' : 'mm');
    insert.run(ITEM + at, ITEM + at, `Practice: ${kind.replaceAll('-', ' ')}`, JSON.stringify(definition));
  });
});
test.afterAll(() => server.stop());

wanted.forEach((kind, at) => {
  test(`pictures of ${kind}`, async ({ page }) => {
    test.setTimeout(300_000);
    await work(page, server, kind, ITEM + at, folder === undefined ? toReadme : toFolder(folder));
  });
});
