import type { Program } from '../program/index.ts';

/** Who says it, in a credential: an Open Badges 3.0 profile. `address` is where others reach this server. */
export interface IssuerProfile {
  readonly id: string;
  readonly type: readonly ['Profile'];
  readonly name: string;
  readonly url: string;
}

export function issuerProfile(program: Program, address: string): IssuerProfile {
  return {
    id: `${address}/issuer`,
    type: ['Profile'],
    name: program.name || 'A program that keeps its record with Dialbench',
    url: address,
  };
}

/** Where the public part of a key is published, as one JWK. */
export function keyAddress(address: string, keyId: string): string {
  return `${address}/keys/${keyId}`;
}
