/** A roster file as text, and what had to be guessed to read it. */
export interface RosterText {
  readonly text: string;
  readonly notes: readonly string[];
}

const CHECK_ACCENTS =
  'This file is not in UTF-8, so it was read as Windows-1252 (Western European). Check the names with accents on the roster.';

/**
 * Turns the bytes of an uploaded file into text: UTF-8 with or without a byte-order mark, UTF-16 with one, and
 * Windows-1252 for what is neither. Gives undefined when it is no text at all, a spreadsheet's own file for example.
 */
export function decodeRoster(bytes: Uint8Array): RosterText | undefined {
  const utf16 = bytes[0] === 0xff && bytes[1] === 0xfe ? 'utf-16le' : undefined;
  if (utf16) return { text: new TextDecoder(utf16).decode(bytes), notes: [] };
  if (bytes.includes(0)) return undefined;
  try {
    return { text: new TextDecoder('utf-8', { fatal: true }).decode(bytes), notes: [] };
  } catch {
    return { text: fromWindows1252(bytes), notes: [CHECK_ACCENTS] };
  }
}

/**
 * What Windows-1252 puts at 0x80 to 0x9F, after the Encoding Standard's index; the five bytes it leaves unassigned stay
 * control characters, which no name may hold. Node 20's own decoder reads this range as ISO 8859-1.
 */
const HIGH = '€\u0081‚ƒ„…†‡ˆ‰Š‹Œ\u008dŽ\u008f\u0090‘’“”•–—˜™š›œ\u009džŸ';

function fromWindows1252(bytes: Uint8Array): string {
  const latin1 = Buffer.from(bytes).toString('latin1');
  return latin1.replace(/[\u0080-\u009f]/g, (character) => HIGH.charAt(character.charCodeAt(0) - 0x80));
}

const DELIMITERS = [',', ';', '\t'] as const;

/** The separator that stands most often in the header line; a comma when none does. */
export function delimiterOf(headerLine: string): string {
  const counts = DELIMITERS.map((delimiter) => headerLine.split(delimiter).length);
  return DELIMITERS[counts.indexOf(Math.max(...counts))] ?? ',';
}
