import { type Browser, expect, type Page, test } from '@playwright/test';
import { parse } from 'csv-parse/sync';
import { givenShop, setPin } from '../server/sign-offs/lab.ts';
import { signIn } from '../support/agent.ts';
import { signInOnPage } from '../support/browser-sign-in.ts';
import { fitsPhone, signWith, tickEveryStep, writeReadings } from '../support/phone-sign-off.ts';
import { ScreenStudent } from '../support/screen-student.ts';
import { startServer, type TestServer } from '../support/server.ts';

const SHEET = 'Monday: cam lift';

let server: TestServer;
test.beforeAll(async () => {
  // The clock stands at 2026-09-14 08:00 UTC until it is moved.
  server = await startServer();
  const marchbanks = await signIn(server.built.app, 'marchbanks');
  await givenShop(marchbanks);
  await setPin(marchbanks, 'marchbanks', '2468');
  await setPin(await signIn(server.built.app, '003201'), '003201', '1357');
});
test.afterAll(() => server.stop());

async function student(
  browser: Browser,
  name: string,
  viewport = { width: 1280, height: 1000 },
): Promise<Page> {
  const page = await browser.newPage({ viewport });
  await page.clock.install();
  await signInOnPage(page, server.url, name);
  return page;
}

async function begin(page: Page): Promise<void> {
  await page.goto(server.url);
  await page.getByRole('button', { name: /^Start Monday run/ }).click();
  await expect(page.getByText('graded run, try 1 of 2')).toBeVisible();
}

async function workAndHandIn(page: Page): Promise<void> {
  await new ScreenStudent(page).workTheSheet();
  await page.getByRole('button', { name: 'Look it over' }).click();
  await page.getByRole('button', { name: 'Hand in' }).click();
  await expect(page.getByRole('heading', { level: 2, name: 'Points' })).toBeVisible();
  await expect(page.locator('main')).toContainText('100 of 100');
}

test('a whole morning: roster, sheet, three students, the floor, a changed grade, a sign-off, and the scores', async ({
  browser,
}) => {
  test.setTimeout(600_000);
  const desk = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await signInOnPage(desk, server.url, 'marchbanks');

  // A section with a roster of three who are known here and one who is new.
  await desk.getByRole('link', { name: 'New section' }).click();
  await desk.getByLabel('Name').fill('Morning lab');
  await desk.getByLabel('Term').fill('Autumn 2026');
  await desk.getByLabel('Begin with what this section has').selectOption('');
  await desk.getByRole('button', { name: 'Make the section' }).click();
  await expect(desk.getByText('The section is made.')).toBeVisible();
  const section = new URL(desk.url()).pathname;
  await desk.getByRole('link', { name: 'Load a roster' }).first().click();
  await desk
    .getByLabel('Or paste the list here')
    .fill(
      'given_name,family_name,student_number\nTamsin,Okereke,003201\nJørgen,Ålund,003202\nMaximiliana-Theodora,Featherstonehaugh-Wolkenstein de la Peñarrubia,003203\nAda,Lund,004900\n',
    );
  await desk.getByRole('button', { name: 'Look at it' }).click();
  await expect(desk.getByText('Added (4)')).toBeVisible();
  await desk.getByRole('button', { name: 'Do it' }).click();
  await desk.getByRole('link', { name: 'To the roster' }).click();
  await expect(desk.getByRole('link', { name: 'Lund, Ada' })).toBeVisible();

  // A sheet with a practice and a shop item: 60 and 40 of the score.
  await desk.getByRole('link', { name: 'Assign a lab sheet' }).first().click();
  await desk.getByRole('link', { name: 'New lab sheet' }).click();
  await desk.getByLabel('Title').fill(SHEET);
  for (const what of ['practice-engine:cam-lift:graded-run', 'shop-engine']) {
    await desk.getByLabel('What', { exact: true }).selectOption(what);
    await desk.getByRole('button', { name: 'Add to the sheet' }).click();
  }
  const [run, shop] = [desk.locator('.sheet-item').first(), desk.locator('.sheet-item').last()];
  await run.getByLabel('Called').fill('Monday run');
  await run.getByLabel('Counts').fill('60');
  await run.getByLabel('Tries').fill('2');
  await run.getByText('Engine, gauge and limits').click();
  await run.getByLabel('Pump positions to measure').fill('1');
  await shop.getByLabel('Counts').fill('40');
  await desk.getByRole('button', { name: 'Keep', exact: true }).last().click();
  await expect(desk.getByText('The sheet is kept.')).toBeVisible();

  // Due at noon; late work loses 10 % of its score for each day begun.
  await desk.getByRole('link', { name: 'Assign', exact: true }).click();
  await desk.getByLabel(/Morning lab/).check();
  await desk.getByLabel('Due on').fill('2026-09-14');
  await desk.getByLabel('At', { exact: true }).fill('12:00');
  await desk.getByLabel('Late work loses').fill('10');
  await desk.getByLabel('And is taken for').fill('7');
  await desk.getByRole('button', { name: 'Assign' }).click();
  await expect(desk.getByText('The sheet is assigned.')).toBeVisible();

  // Extra time for Ålund until noon of the day after.
  await desk.getByRole('link', { name: SHEET }).click();
  await desk.getByLabel('Student', { exact: true }).selectOption({ label: 'Ålund, Jørgen' });
  await desk.getByLabel('Their own due date').fill('2026-09-15');
  await desk.getByLabel('At', { exact: true }).last().fill('12:00');
  await desk.getByLabel('Why').fill('was called away');
  await desk.getByRole('button', { name: 'Give the extra time' }).click();
  await expect(desk.getByText('The extra time is given.')).toBeVisible();

  // One o'clock: all three begin, watched on the floor.
  server.built.clock.moveHours(5);
  await desk.goto(`${server.url}${section}/floor`);
  await expect(desk.locator('#floor-connection')).toHaveText('Live.');
  const [late, extra, stuck] = [
    await student(browser, '003201'),
    await student(browser, '003202'),
    await student(browser, '003203'),
  ];
  await expect(late.getByText('It is late now.')).toBeVisible();
  await expect(extra.getByText('Due 15 Sept 2026, 12:00 UTC.', { exact: false }).first()).toBeVisible();
  for (const page of [late, extra, stuck]) await begin(page);
  const onFloor = (name: string) => desk.locator('.floor-row').filter({ hasText: name });
  for (const name of ['Okereke', 'Ålund', 'Featherstonehaugh'])
    await expect(onFloor(name)).toContainText('working', { timeout: 5000 });
  await expect(onFloor('Lund, Ada')).toContainText('not begun');

  const done = await Promise.allSettled([workAndHandIn(late), workAndHandIn(extra)]);
  for (const one of done) if (one.status === 'rejected') throw one.reason;
  for (const name of ['Okereke', 'Ålund'])
    await expect(onFloor(name)).toContainText('handed in', { timeout: 5000 });

  // The third turns the crank for a quarter of an hour and writes nothing.
  server.built.clock.moveHours(0.25);
  await stuck.getByRole('button', { name: 'Bar +10°' }).click();
  await expect(onFloor('Featherstonehaugh')).toContainText('stuck', { timeout: 5000 });
  await expect(onFloor('Featherstonehaugh')).toContainText('at work, and nothing written since');
  await expect(desk.locator('.floor-row').first()).toContainText('Featherstonehaugh');
  await stuck.getByRole('button', { name: 'Ask for your instructor' }).click();
  await expect(onFloor('Featherstonehaugh')).toContainText('waiting', { timeout: 5000 });
  await desk.getByRole('button', { name: /^I am coming/ }).click();
  await expect(onFloor('Featherstonehaugh')).toContainText('stuck');

  // Reviewed: Ålund's reading is worth half.
  await onFloor('Ålund').getByRole('link').click();
  await desk.getByRole('link', { name: /^Graded/ }).click();
  await desk.getByLabel('Reading', { exact: true }).fill('15');
  await desk.getByLabel('Reason').fill('The second reading was not taken with care.');
  await desk.getByRole('button', { name: 'Change the points' }).click();
  await expect(desk.locator('main')).toContainText('85');

  // Signed off on a phone through every hold point.
  const phone = await browser.newPage({ viewport: { width: 360, height: 740 } });
  await signInOnPage(phone, server.url, 'marchbanks');
  await phone.goto(`${server.url}${section}/sign-offs`);
  await phone.getByLabel('Reads').selectOption({ label: 'Okereke, Tamsin' });
  await phone.getByLabel('Bars').selectOption({ label: 'Ålund, Jørgen' });
  await phone.getByRole('button', { name: 'Draw the position and begin' }).click();
  await fitsPhone(phone);
  const reader = await browser.newPage({ viewport: { width: 360, height: 740 } });
  await signInOnPage(reader, server.url, '003201');
  await reader.getByRole('link', { name: /^Engine E2, position/ }).click();
  expect(await tickEveryStep(phone, reader)).toBeGreaterThan(3);
  await phone.getByLabel('High reading', { exact: true }).fill('0.214');
  await writeReadings(phone, '0.214');
  await signWith(phone, 'PIN of Tamsin Okereke', 'student', '1357');
  await expect(phone.getByLabel('PIN of Tamsin Okereke')).toBeHidden();
  await signWith(phone, 'Your PIN, as assessor', 'assessor', '2468');
  await expect(phone.getByRole('heading', { name: 'Passed' })).toBeVisible();
  await fitsPhone(phone);

  // The scores, each worked out here from what was done.
  await desk.goto(`${server.url}${section}/scores`);
  const download = desk.waitForEvent('download');
  await desk.getByRole('button', { name: 'Export as CSV' }).click();
  const chunks: Buffer[] = [];
  for await (const chunk of await (await download).createReadStream()) chunks.push(chunk as Buffer);
  const rows = parse(Buffer.concat(chunks), { bom: true, columns: true }) as Record<string, string>[];
  const score = (family: string) => rows.find((row) => row.family_name?.startsWith(family))?.[SHEET];
  const oneDayLate = 1 - 0.1;
  expect(score('Okereke')).toBe(((60 * 100 * oneDayLate + 40 * 100 * oneDayLate) / 100).toFixed(1));
  // In time with the extra day: 30 + 20 + 15 + 20 points; the shop's item is not due yet, and left out.
  expect(score('Ålund')).toBe((30 + 20 + 15 + 20).toFixed(1));
  expect(score('Featherstonehaugh')).toBe('0.0');
  expect(score('Lund')).toBe('0.0');
  expect(rows).toHaveLength(4);
});
