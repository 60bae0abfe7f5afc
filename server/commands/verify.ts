import type BetterSqlite3 from 'better-sqlite3';
import { hasChain } from '../database/chain.ts';
import { type ChainCheck, checkChain, type Fault } from '../database/chain-check.ts';
import { migrate } from '../database/migrate.ts';
import { openStore, type Store } from '../database/open.ts';
import { type Regraded, regradeSample } from '../review/index.ts';

export interface Verified {
  readonly chain: ChainCheck;
  readonly regraded: Regraded;
  /** A line each; empty when everything is as it was written. */
  readonly faults: readonly string[];
}

/** The record cannot be looked at; the message is one plain sentence. */
export class VerifyProblem extends Error {}

/**
 * Looks whether the record is whole: the file itself, its tables as the migrations make them, every row against the chain, and a sample of grades
 * worked out again. Changes nothing. Throws VerifyProblem.
 */
export async function verify(store: Store, sample: number): Promise<Verified> {
  const { raw } = store;
  if (!hasChain(raw))
    throw new VerifyProblem('This database is not up to date: start the server once first.');
  const file = [
    ...(raw.pragma('integrity_check') as { integrity_check: string }[])
      .map((row) => row.integrity_check)
      .filter((words) => words !== 'ok'),
    ...(raw.pragma('foreign_key_check') as { table: string; rowid: number }[]).map(
      ({ table, rowid }) => `A row of ${table} (${rowid}) refers to a row that is not there.`,
    ),
    ...schemaFaults(raw),
  ];
  const chain = checkChain(raw);
  const regraded = await regradeSample(store.db, sample);
  return {
    ...{ chain, regraded },
    faults: [
      ...file,
      ...chain.faults.map(faultWords),
      ...regraded.different.map((id) => `The grade of attempt ${id} does not come out again.`),
    ],
  };
}

function faultWords(fault: Fault): string {
  if (fault.kind === 'row-added') return `A row of ${fault.tab} was put in from outside: key ${fault.key}.`;
  const { seq, tab, key, at } = fault.entry;
  const of = `${tab}, key ${key}, entry ${seq} of ${at}`;
  if (fault.kind === 'link-broken')
    return `The chain is broken first at entry ${seq}: ${tab}, key ${key}, ${at}.`;
  return fault.kind === 'row-changed'
    ? `A row was changed from outside: ${of}.`
    : `A row was taken away from outside: ${of}.`;
}

/** Tables, indexes, views and triggers that are not as the migrations make them. */
function schemaFaults(raw: BetterSqlite3.Database): readonly string[] {
  const fresh = openStore(':memory:');
  migrate(fresh.raw);
  const [is, should] = [raw, fresh.raw].map(
    (one) =>
      new Map(
        (
          one.prepare('SELECT type, name, sql FROM sqlite_master WHERE sql IS NOT NULL').all() as {
            type: string;
            name: string;
            sql: string;
          }[]
        ).map(({ type, name, sql }) => [`${type} ${name}`, sql]),
      ),
  ) as [Map<string, string>, Map<string, string>];
  fresh.raw.close();
  return [...new Set([...is.keys(), ...should.keys()])]
    .filter((name) => is.get(name) !== should.get(name))
    .map((name) => `Not as the migrations make it: ${name}.`);
}
