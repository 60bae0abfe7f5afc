import { expect, test } from '@playwright/test';
import { givenShop, setPin } from '../server/sign-offs/lab.ts';
import { signIn } from '../support/agent.ts';
import { signInOnPage } from '../support/browser-sign-in.ts';
import { fitsPhone, signWith, tickEveryStep, writeReadings } from '../support/phone-sign-off.ts';
import { startServer, type TestServer } from '../support/server.ts';

const PHONE = { width: 360, height: 740 };

let server: TestServer;
test.beforeAll(async () => {
  server = await startServer();
  const marchbanks = await signIn(server.built.app, 'marchbanks');
  await givenShop(marchbanks);
  await setPin(marchbanks, 'marchbanks', '2468');
  await setPin(await signIn(server.built.app, '003201'), '003201', '1357');
});
test.afterAll(() => server.stop());

test('work on a shop engine is signed off on a phone through every hold point, the network away in between', async ({
  browser,
}) => {
  test.setTimeout(120_000);
  const assessor = await browser.newPage({ viewport: PHONE });
  await signInOnPage(assessor, server.url, 'marchbanks');
  await assessor.goto(`${server.url}/sections/1/sign-offs`);
  await assessor.getByLabel('Reads').selectOption({ label: 'Okereke, Tamsin' });
  await assessor.getByLabel('Bars').selectOption({ label: 'Ålund, Jørgen' });
  await assessor.getByLabel('Indicator').selectOption('1');
  await assessor.getByLabel('Torque wrench').selectOption('2');
  await fitsPhone(assessor);
  await assessor.getByRole('button', { name: 'Draw the position and begin' }).click();
  await expect(assessor.getByRole('heading', { level: 1, name: 'Tamsin Okereke' })).toBeVisible();
  await fitsPhone(assessor);

  const student = await browser.newPage({ viewport: PHONE });
  await signInOnPage(student, server.url, '003201');
  await student.getByRole('link', { name: /^Engine E2, position/ }).click();
  await fitsPhone(student);
  expect(await student.content()).not.toContain('0.2140');

  expect(await tickEveryStep(assessor, student, true)).toBeGreaterThan(3);
  await student.getByLabel('High reading', { exact: true }).fill('0.214');
  await student.getByRole('button', { name: 'Keep the readings' }).click();
  await expect(student.getByText('Your readings are kept.')).toBeVisible();

  await assessor.reload();
  await expect(assessor.getByLabel('High reading', { exact: true })).toHaveValue('0.214');
  await writeReadings(assessor, '0.214');

  const own = 'PIN of Tamsin Okereke';
  await signWith(assessor, own, 'student', '0000');
  await expect(assessor.getByText('This is not the PIN of Tamsin Okereke.').first()).toBeVisible();
  await signWith(assessor, own, 'student', '1357');
  await expect(assessor.getByLabel(own)).toBeHidden();
  await signWith(assessor, 'Your PIN, as assessor', 'assessor', '2468');
  await expect(assessor.getByRole('heading', { name: 'Passed' })).toBeVisible();
  await fitsPhone(assessor);
  expect(await assessor.evaluate(() => JSON.stringify(localStorage))).not.toContain('2468');

  await student.reload();
  await expect(student.getByRole('heading', { name: 'Passed' })).toBeVisible();
  await student.context().close();
  await assessor.context().close();
});
