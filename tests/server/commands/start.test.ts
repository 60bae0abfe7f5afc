import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { fromRoot } from '../../../server/root.ts';

describe('starting the server', { timeout: 30_000 }, () => {
  let folder: string;
  let started: ChildProcess[] = [];
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'dialbench-start-'));
    started = [];
  });
  afterEach(() => {
    for (const child of started) child.kill('SIGKILL');
    rmSync(folder, { recursive: true, force: true });
  });

  /** Starts it as `npm start` does; `said` grows as it speaks. */
  function start(env: Readonly<Record<string, string>>) {
    const child = spawn(process.execPath, ['--import', 'tsx', 'server/main.ts'], {
      cwd: fromRoot(),
      env: { PATH: process.env.PATH ?? '', PORT: '0', DATA_DIR: join(folder, 'data'), ...env },
    });
    started.push(child);
    const running = { child, said: '' };
    child.stdout.on('data', (chunk) => {
      running.said += chunk;
    });
    child.stderr.on('data', (chunk) => {
      running.said += chunk;
    });
    const ended = new Promise<number | null>((resolve) => child.on('exit', resolve));
    const says = async (words: RegExp) => {
      while (!words.test(running.said)) {
        if (child.exitCode !== null) throw new Error(`ended early: ${running.said}`);
        await new Promise((resolve) => setTimeout(resolve, 20));
      }
      return running.said;
    };
    return { running, ended, says };
  }

  it('works with an empty folder, prints address and demo sign-ins, answers, and stops when told', async () => {
    const { running, ended, says } = start({});
    const said = await says(/go without them/);
    expect(said).toMatch(/student +003201 +first-lobe-201/);
    expect(said).toContain('exist only in the demo program');
    const address = /http:\/\/localhost:\d+/.exec(said)?.[0];
    expect((await fetch(`${address}/sign-in`)).status).toBe(200);
    running.child.kill('SIGTERM');
    expect(await ended).toBe(0);
  });

  it('without the demo program is empty and prints no sign-in', async () => {
    const { running, ended, says } = start({ DEMO: 'none' });
    await says(/Dialbench is at/);
    running.child.kill('SIGINT');
    expect(await ended).toBe(0);
    expect(running.said).not.toContain('003201');
  });

  it('says in one sentence that the port is taken', async () => {
    const blocker = createServer();
    const port = await new Promise<number>((resolve) => {
      blocker.listen(0, '127.0.0.1', () => resolve((blocker.address() as { port: number }).port));
    });
    const { running, ended } = start({ PORT: String(port) });
    expect(await ended).toBe(1);
    expect(running.said.trim()).toBe(
      `Port ${port} is already taken. Stop the program that uses it, or set PORT to another number.`,
    );
    blocker.close();
  });

  it.each([
    [{ PORT: 'x' }, /^The setting PORT must be a port number from 0 to 65535\.$/],
    [{ DATA_DIR: '/dev/null/x' }, /^The data folder \/dev\/null\/x cannot be used \(ENOTDIR\)\. .*$/],
  ])('says in one sentence what cannot be used: %j', async (env, sentence) => {
    const { running, ended } = start(env);
    expect(await ended).toBe(1);
    expect(running.said.trim()).toMatch(sentence);
  });
});
