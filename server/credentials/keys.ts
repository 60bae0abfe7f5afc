import { hkdfSync } from 'node:crypto';
import {
  CompactEncrypt,
  CompactSign,
  calculateJwkThumbprint,
  compactDecrypt,
  exportJWK,
  generateKeyPair,
  importJWK,
  type JWK,
} from 'jose';
import type { Store } from '../database/open.ts';
import { writeTransaction } from '../database/transaction.ts';

/** RS256 is what Open Badges 3.0 asks every program to read. */
const ALGORITHM = 'RS256';
const BITS = 2048;

export interface SigningKey {
  readonly id: string;
  readonly publicJwk: JWK;
  readonly madeAt: string;
  readonly retiredAt: string | null;
}

/** Signs what is said in the program's name; the keys are made when first needed, and kept. */
export interface SigningKeys {
  /** A compact JWS of a payload. `keyAt` gives where the public part of a key is published. */
  sign(payload: object, keyAt: (keyId: string) => string): Promise<string>;
  /** Retires the key in use; the next signature is by a new one. */
  rotate(): Promise<void>;
  /** Every key there was, newest first. */
  list(): Promise<readonly SigningKey[]>;
}

/** `secret` seals the private parts: with another one they cannot be opened, and a new key is made. */
export function signingKeys(store: Store, clock: () => Date, secret: string): SigningKeys {
  const seal = new Uint8Array(hkdfSync('sha256', secret, '', 'dialbench signing keys', 32));
  let inUse: { readonly id: string; readonly key: Awaited<ReturnType<typeof importJWK>> } | null = null;
  let making: Promise<void> | null = null;

  async function opened() {
    const row = await store.db
      .selectFrom('signing_keys')
      .where('retired_at', 'is', null)
      .selectAll()
      .orderBy('made_at', 'desc')
      .executeTakeFirst();
    if (row === undefined) return null;
    try {
      const { plaintext } = await compactDecrypt(row.sealed, seal);
      const jwk = JSON.parse(new TextDecoder().decode(plaintext)) as JWK;
      return { id: row.id, key: await importJWK(jwk, ALGORITHM) };
    } catch {
      // Sealed with a secret that is no longer known. What it signed can still be checked.
      return null;
    }
  }

  async function make() {
    const pair = await generateKeyPair(ALGORITHM, { modulusLength: BITS, extractable: true });
    const publicJwk = await exportJWK(pair.publicKey);
    const id = await calculateJwkThumbprint(publicJwk);
    const sealed = await new CompactEncrypt(
      new TextEncoder().encode(JSON.stringify(await exportJWK(pair.privateKey))),
    )
      .setProtectedHeader({ alg: 'dir', enc: 'A256GCM' })
      .encrypt(seal);
    const made_at = clock().toISOString();
    await writeTransaction(store, async (trx) => {
      await trx
        .updateTable('signing_keys')
        .set({ retired_at: made_at })
        .where('retired_at', 'is', null)
        .execute();
      await trx
        .insertInto('signing_keys')
        .values({
          id,
          public_jwk: JSON.stringify({ ...publicJwk, alg: ALGORITHM, use: 'sig' }),
          sealed,
          made_at,
        })
        .execute();
    });
  }

  async function current() {
    inUse ??= await opened();
    if (inUse === null) {
      // One key, however many ask at once.
      making ??= make().finally(() => {
        making = null;
      });
      await making;
      inUse = await opened();
    }
    if (inUse === null) throw new Error('no key to sign with could be made');
    return inUse;
  }

  return {
    async sign(payload, keyAt) {
      const { id, key } = await current();
      return new CompactSign(new TextEncoder().encode(JSON.stringify(payload)))
        .setProtectedHeader({ alg: ALGORITHM, kid: keyAt(id), typ: 'JWT' })
        .sign(key);
    },
    async rotate() {
      const at = clock().toISOString();
      await writeTransaction(store, (trx) =>
        trx.updateTable('signing_keys').set({ retired_at: at }).where('retired_at', 'is', null).execute(),
      );
      inUse = null;
    },
    async list() {
      const rows = await store.db.selectFrom('signing_keys').selectAll().orderBy('made_at', 'desc').execute();
      return rows.map(({ id, public_jwk, made_at, retired_at }) => ({
        ...{ id, publicJwk: JSON.parse(public_jwk) as JWK, madeAt: made_at, retiredAt: retired_at },
      }));
    },
  };
}
