import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fromRoot } from '../../server/root.ts';

async function freePort(): Promise<number> {
  const probe = createServer();
  await new Promise<void>((resolve) => probe.listen(0, '127.0.0.1', resolve));
  const address = probe.address();
  await new Promise((resolve) => probe.close(resolve));
  if (address === null || typeof address === 'string') throw new Error('no port');
  return address.port;
}

/** The server as `npm start` runs it, in a process of its own with the demo program, so that it can be killed outright. */
export class ChildServer {
  readonly folder = mkdtempSync(join(tmpdir(), 'dialbench-child-'));
  #port = 0;
  #child: ChildProcess | null = null;

  get url(): string {
    return `http://127.0.0.1:${this.#port}`;
  }

  get databaseFile(): string {
    return join(this.folder, 'data', 'dialbench.sqlite');
  }

  /** Starts it, on the same port and data every time; resolves when it answers. */
  async start(): Promise<void> {
    this.#port ||= await freePort();
    const child = spawn(process.execPath, ['--import', 'tsx', 'server/main.ts'], {
      cwd: fromRoot(),
      env: {
        PATH: process.env.PATH ?? '',
        PORT: String(this.#port),
        DATA_DIR: join(this.folder, 'data'),
        LOG_LEVEL: 'error',
      },
      stdio: 'ignore',
    });
    this.#child = child;
    for (;;) {
      if (child.exitCode !== null) throw new Error(`the server ended with ${child.exitCode}`);
      const answer = await fetch(`${this.url}/sign-in`).catch(() => null);
      if (answer?.ok) return;
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
  }

  /** SIGKILL: no farewell, nothing flushed. */
  async kill(): Promise<void> {
    const child = this.#child;
    if (child === null) return;
    const ended = new Promise((resolve) => child.on('exit', resolve));
    child.kill('SIGKILL');
    await ended;
    this.#child = null;
  }

  async stop(): Promise<void> {
    await this.kill();
    rmSync(this.folder, { recursive: true, force: true });
  }
}
