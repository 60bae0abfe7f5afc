import { expect, type Page, test } from '@playwright/test';
import { fromRoot } from '../../server/root.ts';
import { demoPassword } from '../support/agent.ts';
import { startServer, type TestServer } from '../support/server.ts';

let server: TestServer;
test.beforeAll(async () => {
  server = await startServer();
});
test.afterAll(() => server.stop());

async function signIn(page: Page, name: string, password = demoPassword(name)): Promise<void> {
  await page.goto(`${server.url}/sign-in`);
  await page.getByLabel('Sign-in name').fill(name);
  await page.getByLabel('Password', { exact: true }).fill(password);
  await page.getByRole('button', { name: 'Sign in' }).click();
}

test('an instructor loads a roster and gives first passwords; a student chooses an own one', async ({
  page,
  browser,
}) => {
  const faults: string[] = [];
  page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));

  await signIn(page, 'marchbanks');
  await expect(page.getByRole('heading', { level: 1, name: 'Sections' })).toBeVisible();
  await page.getByRole('link', { name: 'Fuel systems, section A' }).click();
  await page.getByRole('link', { name: 'Load a roster' }).click();
  await page
    .getByLabel('File')
    .setInputFiles(fromRoot('tests', 'server', 'sections', 'samples', 'roster-simple.csv'));
  await page.getByRole('button', { name: 'Look at it' }).click();
  await page.getByRole('button', { name: 'Do it' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Roster loaded' })).toBeVisible();
  await page.getByRole('link', { name: 'To the roster' }).click();
  await expect(page.getByRole('link', { name: 'Rivadeneira Quiñones, Tomás' })).toBeVisible();

  await page.getByRole('button', { name: 'Give first passwords to the 12 who have none' }).click();
  const row = page.getByRole('row', { name: 'Ng, Jo' });
  const first =
    /[a-z0-9]{4}(-[a-z0-9]{4}){2}/.exec((await row.getByRole('cell').last().textContent()) ?? '')?.[0] ?? '';
  expect(first).not.toBe('');

  const other = await browser.newPage();
  await signIn(other, '004122', first);
  await expect(other.getByRole('heading', { level: 1, name: 'Choose your own password' })).toBeVisible();
  await other.getByLabel('Password you have now').fill(first);
  await other.getByLabel('New password', { exact: true }).fill('four words in a row');
  await other.getByLabel('New password again').fill('four words in a row');
  await other.getByRole('button', { name: 'Change password' }).click();
  await expect(other.getByText('Your password is changed.')).toBeVisible();
  await other.getByRole('link', { name: 'To your first page' }).click();
  await expect(other.getByRole('heading', { level: 1, name: 'Lab sheets' })).toBeVisible();
  await other.getByRole('button', { name: 'Sign out' }).click();
  await expect(other.getByText('You are signed out.')).toBeVisible();
  await other.close();
  expect(faults).toEqual([]);
});

test('a roster with bad lines names them, loads nothing, and fits a phone', async ({ page }) => {
  await page.setViewportSize({ width: 360, height: 740 });
  await signIn(page, 'duenas');
  await page.goto(`${server.url}/sections/2/roster`);
  await page
    .getByLabel('File')
    .setInputFiles(fromRoot('tests', 'server', 'sections', 'samples', 'roster-bad.csv'));
  await page.getByRole('button', { name: 'Look at it' }).click();
  await expect(page.getByRole('heading', { name: 'Nothing was loaded' })).toBeVisible();
  for (const line of ['4', '6', '8'])
    await expect(page.getByRole('rowheader', { name: line, exact: true })).toBeVisible();

  await page
    .getByLabel('Or paste the list here')
    .fill('student_number\tfamily_name\tgiven_name\n0907\tNg\tJo\n');
  await page.getByRole('button', { name: 'Look at it' }).click();
  await page.getByRole('button', { name: 'Do it' }).click();
  await expect(page.getByRole('heading', { level: 1, name: 'Roster loaded' })).toBeVisible();
  await page.goto(`${server.url}/sections/2`);
  await expect(page.getByRole('link', { name: 'Ng, Jo' })).toBeVisible();
  const wider = await page.evaluate(
    'document.documentElement.scrollWidth - document.documentElement.clientWidth',
  );
  expect(wider).toBe(0);
});
