import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readDemoProgram } from '../server/commands/load-program.ts';
import { environment } from '../server/config.ts';
import { fromRoot } from '../server/root.ts';

const readme = readFileSync(fromRoot('README.md'), 'utf8');
const developers = readFileSync(fromRoot('DEVELOPERS.md'), 'utf8');

describe('the README', () => {
  it('names every setting, and no setting that is gone', () => {
    const named = [...readme.matchAll(/^\| `([A-Z_]+)` \|/gm)].map(([, name]) => name);
    expect(named.sort()).toEqual(Object.keys(environment.shape).sort());
  });

  it('gives demo sign-ins that are in the demo program', () => {
    const people = new Map(
      readDemoProgram().people.map(({ signInName, password }) => [signInName, password]),
    );
    const given = [...readme.matchAll(/^\| [a-z ,AB]+ \| `([^`]+)` \| `([^`]+)` \|/gm)];
    expect(given.length).toBeGreaterThan(3);
    for (const [, name, password] of given) expect(people.get(name ?? ''), name).toBe(password);
  });

  it('opens with the job and gives two commands', () => {
    expect(readme).toContain('npm ci && npm start');
    expect(readme).toContain('npm ci && npm test');
    expect(readme.split('\n\n')[1]?.length).toBeGreaterThan(200);
  });
});

it('DEVELOPERS.md has a line for every room of the server', () => {
  const rooms = readdirSync(fromRoot('server'), { withFileTypes: true }).filter((entry) =>
    entry.isDirectory(),
  );
  for (const { name } of rooms) expect(developers, name).toContain(`  ${name}/`);
});
