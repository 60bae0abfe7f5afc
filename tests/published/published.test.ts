import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { fromRoot } from '../../server/root.ts';
import { ALL_CASES, KEPT_APART } from './all-cases.ts';
import type { PublishedCase } from './published-case.ts';
import { readmeText } from './readme.ts';

function check({ published, within, ours }: PublishedCase) {
  const value = ours();
  if (typeof value === 'string') expect(value).toBe(published);
  else
    expect(Math.abs(value - Number(published)), `${value} against ${published}`).toBeLessThanOrEqual(within);
}

const titled = (cases: readonly PublishedCase[]) =>
  cases.map((one) => [`${one.source}: ${one.what} is ${one.published}`, one] as const);

describe.each(Object.entries(ALL_CASES))('%s', (_, cases) => {
  it.each(titled(cases))('%s', (_title, one) => check(one));
});

for (const [set, cases] of Object.entries(KEPT_APART)) {
  if (cases) describe(set, () => it.each(titled(cases))('%s', (_title, one) => check(one)));
  else console.warn(`Left out: ${set}. Its data may not be copied and do not lie beside the project.`);
}

describe('the table of published values', () => {
  it('is up to date: npm run published', () => {
    expect(readFileSync(fromRoot('tests', 'published', 'README.md'), 'utf8')).toBe(readmeText());
  });
  it('holds at least 120 values, each named once', () => {
    const names = Object.entries(ALL_CASES).flatMap(([folder, cases]) =>
      cases.map(({ source, what }) => `${folder}: ${source}: ${what}`),
    );
    expect(names.length).toBeGreaterThanOrEqual(120);
    expect(new Set(names).size).toBe(names.length);
  });
});
