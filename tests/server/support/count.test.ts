import { describe, expect, it } from 'vitest';
import { lastLine, playwrightCount, total, vitestCount } from '../../support/count.ts';
import { findChromium, type Machine, NoChromium } from '../../support/find-chromium.ts';

describe('the count at the end of a run', () => {
  it('takes passed and failed from the reports', () => {
    const file = { status: 'failed', assertionResults: [{}] };
    expect(vitestCount({ numPassedTests: 5, numFailedTests: 1, testResults: [file] })).toEqual({
      passed: 5,
      failed: 1,
    });
    const stats = { expected: 3, unexpected: 1, flaky: 1, skipped: 4 };
    expect(playwrightCount({ stats })).toEqual({ passed: 3, failed: 2 });
  });

  it('counts a test file that could not be read as a failure', () => {
    const file = { status: 'failed', assertionResults: [] };
    expect(vitestCount({ numPassedTests: 5, numFailedTests: 0, testResults: [file] })).toEqual({
      passed: 5,
      failed: 1,
    });
  });

  it('is one line', () => {
    expect(
      lastLine(
        total([
          { passed: 2, failed: 0 },
          { passed: 1, failed: 1 },
        ]),
      ),
    ).toBe('3 passed, 1 failed');
  });
});

describe('finding Chromium', () => {
  const machine = (there: readonly string[], more: Partial<Machine> = {}): Machine => ({
    chromiumPath: undefined,
    runs: (path) => there.includes(path),
    which: (name) => there.find((path) => path.endsWith(`/${name}`)),
    playwrightsOwn: () => '/own/chrome',
    installDebian: () => false,
    ...more,
  });

  it('goes in order: CHROMIUM_PATH, the Debian one, google-chrome, the downloaded one', () => {
    const all = ['/mine', '/usr/bin/chromium', '/opt/google-chrome', '/own/chrome'];
    expect(findChromium(machine(all, { chromiumPath: '/mine' }))).toBe('/mine');
    expect(findChromium(machine(all))).toBe('/usr/bin/chromium');
    expect(findChromium(machine(all.slice(2)))).toBe('/opt/google-chrome');
    expect(findChromium(machine(all.slice(3)))).toBe('/own/chrome');
  });

  it('stops at once when CHROMIUM_PATH leads nowhere, even where another is there', () => {
    const wrong = machine(['/usr/bin/chromium'], { chromiumPath: '/wrong' });
    expect(() => findChromium(wrong)).toThrow(
      'CHROMIUM_PATH is /wrong, and no program is there that can be run.',
    );
  });

  it('installs one last, and says what to do where it cannot', () => {
    const there: string[] = [];
    const installing = machine(there, { installDebian: () => there.push('/usr/bin/chromium') > 0 });
    expect(findChromium(installing)).toBe('/usr/bin/chromium');
    expect(() => findChromium(machine([]))).toThrow(NoChromium);
  });
});
