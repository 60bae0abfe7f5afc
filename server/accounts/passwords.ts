import { randomInt } from 'node:crypto';
import { hash, verify } from '@node-rs/argon2';

/** argon2id (2) with figures of the OWASP password storage cheat sheet (from memory): 19 MiB, two passes, one lane. */
const FIGURES = { algorithm: 2, memoryCost: 19_456, timeCost: 2, parallelism: 1 };

export const PASSWORD_SHORTEST = 10;
export const PASSWORD_LONGEST = 128;

/** Takes some ten milliseconds: never inside a transaction. */
export function hashPassword(password: string): Promise<string> {
  return hash(password, FIGURES);
}

/** Is this the password behind `stored`? With nothing stored it takes as long and says no, so that timing tells nothing. */
export async function passwordMatches(password: string, stored: string | null | undefined): Promise<boolean> {
  const matches = await verify(stored ?? (await nobodysHash()), password);
  return matches && Boolean(stored);
}

let nobodys: Promise<string> | undefined;

function nobodysHash(): Promise<string> {
  nobodys ??= hashPassword(generatePassword());
  return nobodys;
}

/** Hashes nobody's password ahead of the first sign-in, or that one alone would take twice as long. */
export async function warmUp(): Promise<void> {
  await nobodysHash();
}

/** No 0 o 1 l i 5 s 2 z u v: what is copied from paper must be copied right. */
const LETTERS = 'abcdefghjkmnpqrtwxy346789';
const GROUPS = 3;
const GROUP_LENGTH = 4;

/** Bits of chance in a generated password: twelve letters out of 25. */
export const GENERATED_BITS = GROUPS * GROUP_LENGTH * Math.log2(LETTERS.length);

/** A password to be read from paper: three groups of four, as `kfm4-tp9x-we3h`. */
export function generatePassword(): string {
  const group = () => Array.from({ length: GROUP_LENGTH }, () => LETTERS[randomInt(LETTERS.length)]).join('');
  return Array.from({ length: GROUPS }, group).join('-');
}
