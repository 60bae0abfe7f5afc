import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fromRoot } from '../server/root.ts';
import { type Count, lastLine, playwrightCount, total, vitestCount } from './support/count.ts';

const reports = mkdtempSync(join(tmpdir(), 'dialbench-reports-'));
const vitestReport = join(reports, 'vitest.json');
const playwrightReport = join(reports, 'playwright.json');

/** Runs a program from node_modules; gives whether it ended well. */
function run(words: readonly string[], env: Readonly<Record<string, string>> = {}): boolean {
  const [program = '', ...rest] = words;
  console.log(`\n> ${words.join(' ')}`);
  const result = spawnSync(fromRoot('node_modules', '.bin', program), rest, {
    cwd: fromRoot(),
    stdio: 'inherit',
    env: { ...process.env, ...env },
  });
  return result.status === 0;
}

const check = (passed: boolean): Count => ({ passed: passed ? 1 : 0, failed: passed ? 0 : 1 });

/** A runner that ended badly counts as one failure more than its report holds, if the report holds none. */
function counted(ended: boolean, file: string, read: (report: unknown) => Count): Count {
  const count = existsSync(file) ? read(JSON.parse(readFileSync(file, 'utf8'))) : { passed: 0, failed: 0 };
  return !ended && count.failed === 0 ? { ...count, failed: 1 } : count;
}

const projects = ['.', 'server/engine', 'views/client'];
const types = projects.map((project) => run(['tsc', '--noEmit', '-p', project])).every(Boolean);
const lint = run(['biome', 'check', '--error-on-warnings', '.']);
const unit = run([
  ...['vitest', 'run', '--config', 'tests/vitest.config.ts'],
  ...['--reporter=default', '--reporter=json', `--outputFile.json=${vitestReport}`],
]);
const browser = run(
  ['playwright', 'test', '--config', 'tests/playwright.config.ts', '--reporter=list,json'],
  {
    PLAYWRIGHT_JSON_OUTPUT_NAME: playwrightReport,
  },
);

const counts: Readonly<Record<string, Count>> = {
  'type check': check(types),
  lint: check(lint),
  'server and engine tests': counted(unit, vitestReport, vitestCount),
  'browser tests': counted(browser, playwrightReport, playwrightCount),
};
rmSync(reports, { recursive: true, force: true });

console.log('\nSummary');
for (const [name, count] of Object.entries(counts)) console.log(`  ${name.padEnd(24)} ${lastLine(count)}`);
const all = total(Object.values(counts));
const noneRan = ['server and engine tests', 'browser tests'].some((name) => {
  const count = counts[name];
  return !count || count.passed + count.failed === 0;
});
if (noneRan) console.log('  One of the test runners ran no test: that is a failure.');
process.exitCode = all.failed > 0 || noneRan ? 1 : 0;
console.log(lastLine(noneRan ? { ...all, failed: all.failed + 1 } : all));
