import { spawnSync } from 'node:child_process';
import { constants, setPriority } from 'node:os';
import { FOLDERS, globOf } from './folders.ts';
import { printScores } from './scores.ts';

/**
 * `npm run mutants -- dial torque`: changes the engine's code in one small way after another and sees whether a test fails. Folder by
 * folder at low priority; what is known already is kept in `.cache/` and not run again. With no folder named, all of them: hours.
 */
const asked = process.argv.slice(2);
const unknown = asked.filter((folder) => !Object.hasOwn(FOLDERS, folder));
if (unknown.length > 0)
  throw new Error(`No such folder: ${unknown.join(', ')}. Known: ${Object.keys(FOLDERS)}`);

setPriority(constants.priority.PRIORITY_LOW);
for (const folder of asked.length > 0 ? asked : Object.keys(FOLDERS)) {
  const tests = FOLDERS[folder] ?? [];
  const { status } = spawnSync(
    'npx',
    ['stryker', 'run', 'tests/mutants/stryker.json', '--mutate', globOf(folder)],
    { stdio: 'inherit', env: { ...process.env, MUTANTS_TESTS: tests.join(',') } },
  );
  if (status !== 0) process.exitCode = 1;
}
printScores();
