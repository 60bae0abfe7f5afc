import { AxeBuilder } from '@axe-core/playwright';
import { expect, type Page } from '@playwright/test';

const RULES = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/** axe finds nothing wrong with the page as it stands, by the rules of WCAG 2.2 AA and good practice. */
export async function expectSound(page: Page, where: string): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).withTags(RULES).analyze();
  const found = violations.map(
    ({ id, nodes }) =>
      `${where}: ${id}: ${nodes
        .map(({ html }) => html)
        .slice(0, 3)
        .join(' | ')}`,
  );
  expect(found).toEqual([]);
}
