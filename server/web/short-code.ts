import { randomInt } from 'node:crypto';

/** Digits and capitals that a hand does not mix up: no I, L, O, U or Z. Thirty-one, a prime, so that the check below finds what it says. */
const LETTERS = '0123456789ABCDEFGHJKMNPQRSTVWXY';
const LENGTH = 7;

/** A new code to be written on paper or on a board: letters drawn at random and a last one that checks them; seven in all, or `length`, up to 30. */
export function newCode(draw: (below: number) => number = randomInt, length = LENGTH): string {
  const drawn = Array.from({ length: length - 1 }, () => LETTERS.charAt(draw(LETTERS.length))).join('');
  return drawn + checkLetter(drawn);
}

/**
 * A code as a person types it: small letters, spaces and hyphens are taken, O is nought, I and L are one, Z is two. Null where it is
 * none: any one letter wrong, and any two neighbours that changed places, is found.
 */
export function readCode(typed: string, length = LENGTH): string | null {
  const code = typed
    .toUpperCase()
    .replaceAll(/[\s-]/g, '')
    .replaceAll('O', '0')
    .replaceAll(/[IL]/g, '1')
    .replaceAll('Z', '2');
  if (code.length !== length || [...code].some((letter) => !LETTERS.includes(letter))) return null;
  return checkLetter(code.slice(0, -1)) === code.at(-1) ? code : null;
}

/** As it is printed: `K7M 4QXP`; a longer one in fours. */
export function codeWords(code: string): string {
  return code.length === LENGTH
    ? `${code.slice(0, 3)} ${code.slice(3)}`
    : (code.match(/.{1,4}/g) ?? []).join(' ');
}

function checkLetter(drawn: string): string {
  const sum = [...drawn].reduce((all, letter, index) => all + (index + 2) * LETTERS.indexOf(letter), 0);
  return LETTERS.charAt(sum % LETTERS.length);
}
