import { describe, expect, it } from 'vitest';
import {
  GENERATED_BITS,
  generatePassword,
  hashPassword,
  passwordMatches,
} from '../../../server/accounts/passwords.ts';

describe('passwords', () => {
  it('are kept as argon2id with the figures stated', async () => {
    expect(await hashPassword('a password of mine')).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/);
  });

  it('match only themselves', async () => {
    const stored = await hashPassword('a password of mine');
    expect(await passwordMatches('a password of mine', stored)).toBe(true);
    expect(await passwordMatches('a password of mine ', stored)).toBe(false);
  });

  it('match nothing where none is kept', async () => {
    expect(await passwordMatches('', null)).toBe(false);
    expect(await passwordMatches('anything', undefined)).toBe(false);
  });
});

describe('a generated password', () => {
  it('holds at least 50 bits of chance', () => {
    expect(GENERATED_BITS).toBeGreaterThanOrEqual(50);
  });

  it('holds no letters that look alike, in three groups of four', () => {
    const seen = new Set(Array.from({ length: 500 }, generatePassword));
    expect(seen.size).toBe(500);
    for (const password of seen)
      expect(password).toMatch(/^([abcdefghjkmnpqrtwxy346789]{4}-){2}[abcdefghjkmnpqrtwxy346789]{4}$/);
  });
});
