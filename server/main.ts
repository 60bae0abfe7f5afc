import { listDemoPeople } from './accounts/index.ts';
import { buildApp } from './app.ts';
import { isEmpty, loadProgram, readDemoProgram } from './commands/load-program.ts';
import { ConfigProblem, readConfig } from './config.ts';
import { DataFolderProblem, openDataFolder } from './database/data-folder.ts';
import { MigrationProblem, migrate } from './database/migrate.ts';
import type { Store } from './database/open.ts';
import { bundleAssets } from './web/assets.ts';

/** Starts the server from the environment: settings, database, demo program when it is new, listen. */
async function main(): Promise<void> {
  const config = readConfig(process.env);
  const { store, sessionSecret } = openDataFolder(config.dataDir, config.sessionSecret);
  migrate(store.raw);
  if (config.demo === 'program' && (await isEmpty(store))) {
    await loadProgram(store, readDemoProgram(), new Date());
  }

  const app = await buildApp(config, { database: store, sessionSecret, assets: await bundleAssets() });
  // Before listening, so that there is no moment in which a signal would cut a request short.
  let stopping = false;
  const stop = async () => {
    if (stopping) return;
    stopping = true;
    await app.close();
    await store.close();
  };
  process.on('SIGTERM', stop);
  process.on('SIGINT', stop);

  const address = await app.listen({ host: config.host, port: config.port });
  // The name people know, for the address that only this machine can reach.
  console.log(`Dialbench is at ${address.replace('//127.0.0.1:', '//localhost:')}`);
  await printDemoSignIns(store);
}

async function printDemoSignIns(store: Store): Promise<void> {
  const people = await listDemoPeople(store.db);
  if (people.length === 0) return;
  const passwords = new Map(readDemoProgram().people.map((one) => [one.signInName, one.password]));
  console.log(
    '\nSign-ins of the demo program. These people are invented and exist only in the demo program:',
  );
  for (const one of people) {
    const words = [
      one.role.padEnd(12),
      one.sign_in_name.padEnd(11),
      (passwords.get(one.sign_in_name) ?? '').padEnd(15),
    ];
    console.log(`  ${words.join(' ')} ${one.given_name} ${one.family_name}`);
  }
  console.log('Start with DEMO=none and an empty data folder to go without them.');
}

/** What whoever starts the server can put right is one sentence; anything else is shown whole. */
function explain(error: unknown): string | undefined {
  if (
    error instanceof ConfigProblem ||
    error instanceof DataFolderProblem ||
    error instanceof MigrationProblem
  ) {
    return error.message;
  }
  const { code, syscall } = (error ?? {}) as NodeJS.ErrnoException;
  if (syscall !== 'listen' && syscall !== 'getaddrinfo') return undefined;
  if (code === 'EADDRINUSE') {
    return `Port ${process.env.PORT || 3000} is already taken. Stop the program that uses it, or set PORT to another number.`;
  }
  return `The server cannot listen on HOST ${process.env.HOST || '127.0.0.1'}, PORT ${process.env.PORT || 3000} (${code}).`;
}

main().catch((error: unknown) => {
  const sentence = explain(error);
  console.error(sentence ?? error);
  process.exit(1);
});
