import { expect, type Page } from '@playwright/test';

/** No page at a bench may scroll sideways on a phone. */
export async function fitsPhone(page: Page): Promise<void> {
  const wide = await page.locator('html').evaluate((html) => html.scrollWidth - html.clientWidth);
  expect(wide, 'the page scrolls sideways').toBe(0);
}

/**
 * Ticks every step of a sign-off on the assessor's phone, the student saying at each hold point on their own that they are ready. With
 * `networkAway` the assessor's phone loses the network for three steps and is reloaded when it is back.
 */
export async function tickEveryStep(assessor: Page, student: Page, networkAway = false): Promise<number> {
  const steps = await assessor.locator('ol.steps > li').count();
  const saved = assessor.locator('#save-state');
  let holds = 0;
  for (let index = 0; index < steps; index += 1) {
    const step = assessor.locator(`#step-${index}`);
    if ((await step.locator('.step-hold').count()) > 0) {
      holds += 1;
      await student
        .locator(`#step-${index}`)
        .getByRole('button', { name: /^Ready for you/ })
        .click();
      await expect(student.locator(`#step-${index}`)).toContainText('Waiting for your assessor');
    }
    if (networkAway && index === 10) await assessor.context().setOffline(true);
    await step.getByLabel('alone', { exact: true }).check();
    if (networkAway && index === 12) {
      await expect(saved).toContainText('No connection');
      // What a phone could not send outlives a page that is closed by mistake.
      await assessor.context().setOffline(false);
      await assessor.reload();
      await expect(assessor.locator('#step-12').getByLabel('alone', { exact: true })).toBeChecked();
    }
    if (!networkAway || index < 10 || index >= 12)
      await expect(saved).toContainText('All sent.', { timeout: 15_000 });
  }
  return holds;
}

/** Writes the rest of the readings on the assessor's phone, the high reading standing there already. */
export async function writeReadings(assessor: Page, lift: string): Promise<void> {
  await assessor.getByLabel('Second high reading').fill(lift);
  await assessor.getByLabel('Return to zero').fill('0');
  await assessor.getByLabel('Lift', { exact: true }).fill(lift);
  await assessor.getByLabel('Against the limits').selectOption('inside');
  await assessor.getByLabel('What next').selectOption('return-to-service');
  await assessor.getByLabel('Torques and adapter setting').fill('35 lbf·ft');
  await assessor.getByLabel('Why').fill('within limits');
  await assessor.getByRole('heading', { name: 'As it stands' }).click();
  await expect(assessor.getByText('Nothing stands against passing.')).toBeVisible();
}

/** Signs for one of the two with their PIN. */
export async function signWith(
  assessor: Page,
  label: string,
  role: 'student' | 'assessor',
  pin: string,
): Promise<void> {
  await assessor.getByLabel(label).fill(pin);
  await assessor.getByRole('button', { name: `Sign as ${role}` }).click();
}
