import { readConfig } from '../config.ts';
import { openDataFolder } from '../database/data-folder.ts';
import { migrate } from '../database/migrate.ts';
import { isEmpty, loadProgram, readDemoProgram } from './load-program.ts';

const config = readConfig(process.env);
const { store } = openDataFolder(config.dataDir, config.sessionSecret);
migrate(store.raw);
if (await isEmpty(store)) {
  await loadProgram(store, readDemoProgram(), new Date());
  console.log('The demo program is loaded.');
} else {
  console.error('The database already holds people, so the demo program was not loaded.');
  process.exitCode = 1;
}
await store.close();
