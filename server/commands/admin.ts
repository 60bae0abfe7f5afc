import { parseArgs } from 'node:util';
import { ConfigProblem, readConfig } from '../config.ts';
import { DataFolderProblem, openDataFolder } from '../database/data-folder.ts';
import { VerifyProblem, verify } from './verify.ts';

const USE = `npm run admin -- verify [--sample 100]   proves that nothing in the record was changed from outside, and grades a sample again`;

/** What whoever keeps the server does from the command line. Ends with 0, with 1 where something is wrong, with 2 where it could not be done. */
async function main(): Promise<number> {
  const { positionals, values } = parseArgs({
    allowPositionals: true,
    options: { sample: { type: 'string', default: '100' } },
  });
  const sample = Number(values.sample);
  if (positionals.join(' ') !== 'verify' || !Number.isInteger(sample) || sample < 0) {
    console.error(USE);
    return 2;
  }
  const config = readConfig(process.env);
  const { store } = openDataFolder(config.dataDir, config.sessionSecret);
  try {
    const { chain, regraded, faults } = await verify(store, sample);
    console.log(
      `${chain.rows} rows against ${chain.entries} entries of the chain. Its last link is ${chain.head}.`,
    );
    console.log(
      `${regraded.same + regraded.different.length} attempts graded again, ${regraded.different.length} of them not the same${regraded.older === 0 ? '' : `; ${regraded.older} were graded by an earlier version of the engine`}.`,
    );
    for (const fault of faults) console.error(fault);
    console.log(
      faults.length === 0
        ? 'The record is whole.'
        : `The record is not whole: ${faults.length} ${faults.length === 1 ? 'fault' : 'faults'}.`,
    );
    return faults.length === 0 ? 0 : 1;
  } finally {
    await store.close();
  }
}

try {
  process.exitCode = await main();
} catch (error) {
  const isPlain =
    error instanceof VerifyProblem ||
    error instanceof ConfigProblem ||
    error instanceof DataFolderProblem ||
    (error as NodeJS.ErrnoException).code?.startsWith('ERR_PARSE_ARGS');
  if (!isPlain) throw error;
  console.error((error as Error).message);
  process.exitCode = 2;
}
