import { readConfig } from '../config.ts';
import { openDataFolder } from '../database/data-folder.ts';
import { migrate } from '../database/migrate.ts';

const config = readConfig(process.env);
const { store } = openDataFolder(config.dataDir, config.sessionSecret);
const { from, to } = migrate(store.raw);
console.log(
  from === to
    ? `The database is at version ${to}; nothing to do.`
    : `The database went from version ${from} to ${to}.`,
);
await store.close();
