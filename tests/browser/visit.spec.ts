import { readFileSync } from 'node:fs';
import { expect, test } from '@playwright/test';
import { ONE_RUN, ruleInForce } from '../server/support/rule-in-force.ts';
import { signInOnPage } from '../support/browser-sign-in.ts';
import { expectSound } from '../support/expect-sound.ts';
import { givenAttempt } from '../support/given-attempt.ts';
import { givenShopItem, givenSignOff } from '../support/given-shop-work.ts';
import { startServer, type TestServer } from '../support/server.ts';

const RUN = 'dddddddd-0000-4000-8000-000000000001';
let server: TestServer;
test.beforeAll(async () => {
  server = await startServer();
  const { store } = server.built;
  const at = '2022-09-01T09:00:00.000Z';
  const shopItem = await givenShopItem(store, at);
  await ruleInForce(store, 2, ONE_RUN, at, [3, shopItem]);
  const { id: sectionId } = await store.db
    .insertInto('sections')
    .values({ name: 'Fuel systems', term: 'Autumn 2022', created_at: at })
    .returning('id')
    .executeTakeFirstOrThrow();
  const { id: personId } = await store.db
    .insertInto('people')
    .values({
      ...{ role: 'student', given_name: 'Zdzisława', family_name: 'Brzęczyszczykiewicz-Ó Dubhthaigh' },
      ...{ sign_in_name: '000917', student_number: '000917', created_at: at },
    })
    .returning('id')
    .executeTakeFirstOrThrow();
  const by = await store.db
    .selectFrom('people')
    .where('sign_in_name', '=', 'marchbanks')
    .select('id')
    .executeTakeFirstOrThrow();
  // She left when the term was over: nobody has her on a roster today.
  await store.db
    .insertInto('section_leavers')
    .values({
      ...{ section_id: sectionId, person_id: personId, taken_off_by: by.id },
      ...{ added_at: at, left_at: '2022-12-20T09:00:00.000Z' },
    })
    .execute();
  const about = { signInName: '000917', sectionId };
  await givenAttempt(store, { ...about, id: RUN, itemId: 3, seed: 'visit', at: '2022-10-04T10:00:00.000Z' });
  await givenSignOff(store, {
    ...{ ...about, id: 'dddddddd-0000-4000-8000-000000000002', itemId: shopItem },
    ...{ at: '2022-10-11T10:00:00.000Z', dueOn: '2023-01-10' },
  });
});
test.afterAll(() => server.stop());

test('a visit asks for a student of four years ago: evidence, replay, transcript, its code signed out, and the log', async ({
  browser,
}) => {
  const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
  const faults: string[] = [];
  page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
  page.on('pageerror', (error) => faults.push(error.message));
  await signInOnPage(page, server.url, 'vossberg');

  await page.getByRole('link', { name: 'People' }).click();
  await page.getByLabel('Name or student number').fill('brzeczyszczykiewicz');
  await page.getByRole('button', { name: 'Find' }).click();
  await expect(page.locator('main')).toContainText('Autumn 2022');
  await page.getByRole('link', { name: /Brzęczyszczykiewicz/ }).click();
  await expect(page.locator('main')).toContainText('holds it since 11 Oct 2022');

  await page.getByRole('link', { name: 'Measures injection-cam lift' }).click();
  await expect(page.locator('main')).toContainText('held by this');
  await page.getByRole('link', { name: 'Sign-off', exact: true }).click();
  await expect(page.locator('main')).toContainText('G7, check due 2023-01-10');
  await page.goBack();
  await page.getByRole('link', { name: /graded run, try 1/ }).click();
  const replay = page.locator('attempt-replay').first();
  await expect(replay).toBeVisible();
  const moment = replay.getByRole('slider').first();
  const before = await moment.inputValue();
  await moment.press('End');
  expect(await moment.inputValue()).not.toBe(before);

  await page.getByRole('link', { name: 'People' }).click();
  await page.getByLabel('Name or student number').fill('000917');
  await page.getByRole('button', { name: 'Find' }).click();
  await page.getByRole('link', { name: /Brzęczyszczykiewicz/ }).click();
  await page.getByRole('link', { name: 'Transcript', exact: true }).click();
  await page.getByLabel('For whom').fill('Visiting team, M. Example');
  await page.getByLabel('What for').fill('accreditation');
  await page.getByRole('button', { name: 'Issue it' }).click();
  const download = page.waitForEvent('download');
  await page.getByRole('link', { name: 'PDF' }).click();
  const file = await (await download).path();
  expect(readFileSync(file).subarray(0, 5).toString()).toBe('%PDF-');
  const code = (await page.locator('main dd .code').last().textContent())?.trim() ?? '';
  expect(code).toMatch(/^\w{4} \w{4} \w{4}$/);

  const stranger = await (await browser.newContext({ viewport: { width: 360, height: 800 } })).newPage();
  await stranger.goto(`${server.url}/verify`);
  await stranger.getByLabel('Code').fill(code.toLowerCase());
  await stranger.getByRole('button', { name: 'Look it up' }).click();
  await expect(stranger.locator('main')).toContainText('This transcript is genuine.');
  await expect(stranger.locator('main')).toContainText('Brzęczyszczykiewicz');
  await expect(stranger.locator('main')).not.toContainText('Visiting team');
  await expectSound(stranger, `${stranger.url()} signed out`);

  await page.getByRole('link', { name: 'Audit' }).click();
  await page.getByLabel('Words').fill('visiting team');
  await page.getByRole('button', { name: 'Find' }).click();
  const line = page.locator('tbody tr');
  await expect(line).toHaveCount(1);
  await expect(line).toContainText(`Transcript ${code.replaceAll(' ', '')}`);
  await expect(line).toContainText('accreditation');
  await expect(line.getByRole('link', { name: /Brzęczyszczykiewicz/ })).toBeVisible();
  expect(faults).toEqual([]);
});
