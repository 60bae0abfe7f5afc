import { expect, test } from '@playwright/test';
import { signInOnPage } from '../support/browser-sign-in.ts';
import { givenAttempt } from '../support/given-attempt.ts';
import { startServer } from '../support/server.ts';

test('through what needs a person by keyboard: next, seen, a comment with one more try, an answer', async ({
  page,
}) => {
  const server = await startServer();
  for (const tryNumber of [1, 2, 3])
    await givenAttempt(server.built.store, {
      ...{ id: `try-${tryNumber}`, seed: `keys-${tryNumber}`, signInName: '003201', sectionId: 1, itemId: 3 },
      ...{ tryNumber, at: `2026-09-1${tryNumber}T09:00:00.000Z`, habits: { skip: () => true } },
    });
  server.built.store.raw.exec(`INSERT INTO disagreements
    SELECT 1, 'try-3', id, 'stop', 0, json_extract(grade, '$.stops[0].code'), 'Look at the log.', 4, '2026-09-14T08:00:00.000Z'
    FROM grades WHERE attempt_id = 'try-3'`);
  await signInOnPage(page, server.url, 'marchbanks');
  const on = (id: string) => page.waitForURL(new RegExp(`/attempts/${id}`));
  const at = (id: string) => `${server.url}/sections/1/attempts/${id}`;

  await page.goto(`${server.url}/sections/1/review`);
  await page.getByRole('link', { name: 'Begin with the first' }).press('Enter');
  await on('try-3');
  await expect(page.getByRole('navigation', { name: 'Review' })).toBeFocused();
  await page.keyboard.press('n');
  await on('try-1');
  await page.keyboard.press('s');
  await on('try-2');
  await page.keyboard.press('p');
  await on('try-3');

  // In a field the same keys are letters.
  await page.keyboard.press('a');
  await page.keyboard.type('sn p');
  await expect(page.getByRole('textbox', { name: 'Answer' })).toHaveValue('sn p');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  await expect(page.getByText('The answer is kept.')).toBeVisible();

  await page.goto(at('try-2'));
  await page.keyboard.press('c');
  await page.keyboard.type('Once more, with the rod seated.');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Enter');
  await expect(page.getByText('One more try is given.')).toBeVisible();
  await expect(page.getByText('Review: nothing waits')).toBeVisible();
  await server.stop();
});
