import { expect, type Page, test } from '@playwright/test';
import { givenShop, setPin } from '../server/sign-offs/lab.ts';
import { signIn } from '../support/agent.ts';
import { signInOnPage } from '../support/browser-sign-in.ts';
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

async function fits(page: Page): Promise<void> {
  const wide = await page.locator('html').evaluate((html) => html.scrollWidth - html.clientWidth);
  expect(wide, 'the page scrolls sideways').toBe(0);
}

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
  await fits(assessor);
  await assessor.getByRole('button', { name: 'Draw the position and begin' }).click();
  await expect(assessor.getByRole('heading', { level: 1, name: 'Tamsin Okereke' })).toBeVisible();
  await fits(assessor);

  const student = await browser.newPage({ viewport: PHONE });
  await signInOnPage(student, server.url, '003201');
  await student.getByRole('link', { name: /^Engine E2, position/ }).click();
  await fits(student);
  expect(await student.content()).not.toContain('0.2140');

  const holds = assessor.locator('.step-hold');
  const steps = await assessor.locator('ol.steps > li').count();
  expect(await holds.count()).toBeGreaterThan(3);
  const saved = assessor.locator('#save-state');
  for (let index = 0; index < steps; index += 1) {
    const step = assessor.locator(`#step-${index}`);
    const isHold = (await step.locator('.step-hold').count()) > 0;
    if (isHold) {
      const own = student.locator(`#step-${index}`);
      await own.getByRole('button', { name: /^Ready for you/ }).click();
      await expect(student.locator(`#step-${index}`)).toContainText('Waiting for your assessor');
    }
    if (index === 10) await assessor.context().setOffline(true);
    await step.getByLabel('alone', { exact: true }).check();
    if (index === 12) {
      await expect(saved).toContainText('No connection');
      // What a phone could not send outlives a page that is closed by mistake.
      await assessor.context().setOffline(false);
      await assessor.reload();
      await expect(assessor.locator('#step-12').getByLabel('alone', { exact: true })).toBeChecked();
    }
    if (index < 10 || index >= 12) await expect(saved).toContainText('All sent.', { timeout: 15_000 });
  }
  await student.getByLabel('High reading', { exact: true }).fill('0.214');
  await student.getByRole('button', { name: 'Keep the readings' }).click();
  await expect(student.getByText('Your readings are kept.')).toBeVisible();

  await assessor.reload();
  await expect(assessor.getByLabel('High reading', { exact: true })).toHaveValue('0.214');
  await assessor.getByLabel('Second high reading').fill('0.2145');
  await assessor.getByLabel('Return to zero').fill('0');
  await assessor.getByLabel('Lift', { exact: true }).fill('0.214');
  await assessor.getByLabel('Against the limits').selectOption('inside');
  await assessor.getByLabel('What next').selectOption('return-to-service');
  await assessor.getByLabel('Torques and adapter setting').fill('35 lbf·ft');
  await assessor.getByLabel('Why').fill('within limits');
  await assessor.getByRole('heading', { name: 'As it stands' }).click();
  await expect(assessor.getByText('Nothing stands against passing.')).toBeVisible();

  await assessor.getByLabel('PIN of Tamsin Okereke').fill('0000');
  await assessor.getByRole('button', { name: 'Sign as student' }).click();
  await expect(assessor.getByText('This is not the PIN of Tamsin Okereke.').first()).toBeVisible();
  await assessor.getByLabel('PIN of Tamsin Okereke').fill('1357');
  await assessor.getByRole('button', { name: 'Sign as student' }).click();
  await expect(assessor.getByLabel('PIN of Tamsin Okereke')).toBeHidden();
  await assessor.getByLabel('Your PIN, as assessor').fill('2468');
  await assessor.getByRole('button', { name: 'Sign as assessor' }).click();
  await expect(assessor.getByRole('heading', { name: 'Passed' })).toBeVisible();
  await fits(assessor);
  expect(await assessor.evaluate(() => JSON.stringify(localStorage))).not.toContain('2468');

  await student.reload();
  await expect(student.getByRole('heading', { name: 'Passed' })).toBeVisible();
  await student.context().close();
  await assessor.context().close();
});
