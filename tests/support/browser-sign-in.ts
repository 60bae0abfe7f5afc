import type { Page } from '@playwright/test';
import { demoPassword } from './agent.ts';

/** Signs a person of the demo program in by the form, and waits until the page after it is there. */
export async function signInOnPage(page: Page, url: string, who: string): Promise<void> {
  await page.goto(`${url}/sign-in`);
  await page.getByLabel('Sign-in name').fill(who);
  await page.getByLabel('Password', { exact: true }).fill(demoPassword(who));
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.waitForURL((now) => now.pathname !== '/sign-in');
}
