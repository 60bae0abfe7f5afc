import { expect, type Locator, type Page, test } from '@playwright/test';
import { fromRoot } from '../../server/root.ts';
import { demoPassword } from '../support/agent.ts';
import { startServer } from '../support/server.ts';

/**
 * Walks from the sign-in page to "assigned to my section" as an instructor would, counts what is pressed and typed, and takes the pictures of the
 * walk for README. The seconds are no stopwatch's: they are what the keystroke-level model gives a practised hand (a key 0.28 s, pointing
 * 1.1 s, a press 0.2 s, changing between mouse and keys 0.4 s, making up one's mind 1.35 s before each step; Card, Moran and Newell, from
 * memory), with three times the making up for somebody who has never seen it.
 */

class Walk {
  readonly #page: Page;
  presses = 0;
  keys = 0;
  #fields = 0;

  constructor(page: Page) {
    this.#page = page;
  }

  async press(target: Locator): Promise<void> {
    await target.click();
    this.presses += 1;
  }

  /** Types into a field that is pointed at first. */
  async type(target: Locator, text: string): Promise<void> {
    await target.fill(text);
    this.presses += 1;
    this.#fields += 1;
    this.keys += text.length;
  }

  async picture(name: string): Promise<void> {
    await this.#page.screenshot({ path: fromRoot('views', 'pictures', `${name}.png`) });
  }

  seconds(newcomer: boolean): number {
    const steps = this.presses;
    const mind = newcomer ? 3 * 1.35 : 1.35;
    return Math.round(steps * (1.1 + 0.2 + mind) + this.#fields * 2 * 0.4 + this.keys * 0.28);
  }
}

async function signIn(page: Page, walk: Walk, url: string): Promise<void> {
  await page.goto(url);
  await walk.type(page.getByLabel('Sign-in name'), 'marchbanks');
  await walk.type(page.getByLabel('Password', { exact: true }), demoPassword('marchbanks'));
  await walk.press(page.getByRole('button', { name: 'Sign in' }));
}

test('from the sign-in page to “assigned to my section”', async ({ browser }) => {
  const server = await startServer();
  const context = { viewport: { width: 1000, height: 560 } };

  const page = await browser.newPage(context);
  const first = new Walk(page);
  await signIn(page, first, server.url);
  await first.press(page.getByRole('link', { name: 'Lab sheets' }));
  await first.picture('walk-sheets');
  await first.press(page.getByRole('link', { name: 'Assign Dial-indicator work of the shop' }));
  await first.type(page.getByLabel('Due on'), '2026-10-02');
  await first.picture('walk-assign');
  await first.press(page.getByRole('button', { name: 'Assign' }));
  await expect(page.getByText('The sheet is assigned.')).toBeVisible();
  await first.picture('walk-section');

  const again = await browser.newPage(context);
  const later = new Walk(again);
  await signIn(again, later, server.url);
  await later.press(again.getByRole('link', { name: 'New section' }));
  await later.type(again.getByLabel('Name'), 'Fuel systems, section C');
  await later.type(again.getByLabel('Term'), 'Spring 2027');
  await later.press(again.getByRole('button', { name: 'Make the section' }));
  await expect(again.getByText('The section is made.')).toBeVisible();
  await expect(again.getByRole('link', { name: 'Dial-indicator work of the shop' })).toBeVisible();

  for (const [what, walk] of [
    ['first time', first],
    ['from last term’s section', later],
  ] as const)
    console.log(
      `${what}: ${walk.presses} clicks, ${walk.keys} keys; about ${walk.seconds(true)} s for a newcomer, ${walk.seconds(false)} s with practice (keystroke-level model)`,
    );
  await server.stop();
});
