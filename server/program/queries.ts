import type { FastifyRequest } from 'fastify';
import type { Kysely, Transaction } from 'kysely';
import type { Database } from '../database/tables.ts';

/** The program as it names itself to others. */
export interface Program {
  /** Blank until the coordinator writes it. */
  readonly name: string;
  /** Where others reach this server, without a slash at the end; blank: wherever it is asked. */
  readonly address: string;
  /** What machines call it. */
  readonly uuid: string;
}

export async function getProgram(db: Kysely<Database>): Promise<Program> {
  return db.selectFrom('program').select(['name', 'address', 'uuid']).executeTakeFirstOrThrow();
}

export async function keepProgram(
  trx: Transaction<Database>,
  program: Pick<Program, 'name' | 'address'>,
): Promise<void> {
  await trx.updateTable('program').set(program).where('id', '=', 1).execute();
}

/** Where others reach this server: as the coordinator wrote it, or else as this request came. */
export function addressOf(program: Pick<Program, 'address'>, request: FastifyRequest): string {
  return program.address || `${request.protocol}://${request.host}`;
}
