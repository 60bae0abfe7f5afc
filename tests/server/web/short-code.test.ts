import { describe, expect, it } from 'vitest';
import { codeWords, newCode, readCode } from '../../../server/web/short-code.ts';

const LETTERS = '0123456789ABCDEFGHJKMNPQRSTVWXY';
const codes = Array.from({ length: 300 }, () => newCode());

describe('the code of a sheet', () => {
  it('is read as it is printed, and as a hand types it', () => {
    for (const code of codes) {
      expect(readCode(codeWords(code))).toBe(code);
      expect(readCode(` ${code.toLowerCase()} `)).toBe(code);
      expect(readCode(code.replaceAll('0', 'o').replaceAll('1', 'l').replaceAll('2', 'z'))).toBe(code);
    }
  });

  it('finds every single wrong letter', () => {
    for (const code of codes.slice(0, 40))
      for (let at = 0; at < code.length; at += 1)
        for (const letter of LETTERS)
          if (letter !== code[at])
            expect(readCode(code.slice(0, at) + letter + code.slice(at + 1)), `${code} ${at}`).toBeNull();
  });

  it('finds neighbours that changed places', () => {
    for (const code of codes)
      for (let at = 0; at < code.length - 2; at += 1) {
        const [one, other] = [code.charAt(at), code.charAt(at + 1)];
        if (one !== other)
          expect(readCode(code.slice(0, at) + other + one + code.slice(at + 2)), `${code} ${at}`).toBeNull();
      }
  });

  it('is none where it is too short, too long or has other signs', () => {
    for (const text of ['', 'ABC', `${codes[0]}0`, 'ABC-DE!', '<script>', 'ÄBCDEFG'])
      expect(readCode(text)).toBeNull();
  });
});
