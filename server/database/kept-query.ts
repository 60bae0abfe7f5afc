import type { Compilable, CompiledQuery, Kysely } from 'kysely';
import type { Database } from './tables.ts';

type Value = string | number | null;

/**
 * A query whose SQL is written once: for the few that every page asks, writing it costs more than running it. `build` is given a stand-in for
 * each argument and must use it as a value, nowhere else: it must not look at it.
 *
 *     const byName = keptQuery((db, { name }: { name: string }) => db.selectFrom('people').select('id').where('sign_in_name', '=', name));
 *     const rows = await byName(db, { name: 'ana' });
 */
export function keptQuery<Arguments extends Readonly<Record<string, Value>>, Row>(
  build: (db: Kysely<Database>, given: Arguments) => Compilable<Row>,
): (db: Kysely<Database>, given: Arguments) => Promise<Row[]> {
  let written: CompiledQuery<Row> | undefined;
  return async (db, given) => {
    written ??= build(db, standIns<Arguments>()).compile();
    const parameters = written.parameters.map((parameter) =>
      parameter instanceof StandIn ? argumentOf(given, parameter.name) : parameter,
    );
    const { rows } = await db.executeQuery<Row>({ ...written, parameters });
    return rows;
  };
}

/** Takes the place of an argument while the SQL is written. */
class StandIn {
  readonly name: string;
  constructor(name: string) {
    this.name = name;
  }
}

function standIns<Arguments>(): Arguments {
  return new Proxy({}, { get: (_, name) => new StandIn(String(name)) }) as Arguments;
}

function argumentOf(given: Readonly<Record<string, Value>>, name: string): Value {
  const value = given[name];
  if (value === undefined) throw new Error(`the query needs ${name}`);
  return value;
}
