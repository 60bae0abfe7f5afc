import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { loadProgram, readDemoProgram } from '../../server/commands/load-program.ts';
import { openDataFolder } from '../../server/database/data-folder.ts';
import { migrate } from '../../server/database/migrate.ts';
import { type Assets, bundleAssets } from '../../server/web/assets.ts';
import { type TestApp, type TestOptions, testApp } from './build.ts';

export interface TestServer {
  /** `http://127.0.0.1:<free port>` */
  readonly url: string;
  readonly built: TestApp;
  stop(): Promise<void>;
}

let bundled: Promise<Assets> | undefined;

/** The whole server, with styles and browser code, on a free port and a data folder of its own. */
export async function startServer(options: TestOptions = {}): Promise<TestServer> {
  const folder = mkdtempSync(join(tmpdir(), 'dialbench-test-'));
  const { store } = openDataFolder(folder);
  migrate(store.raw);
  await loadProgram(store, readDemoProgram(), new Date('2026-09-01T08:00:00.000Z'));
  bundled ??= bundleAssets();
  const built = await testApp({ ...options, store, assets: await bundled });
  const url = await built.app.listen({ host: '127.0.0.1', port: 0 });
  return {
    url,
    built,
    async stop() {
      await built.close();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
