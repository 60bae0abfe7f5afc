/** What pictures begin with, by their kind: a name says nothing of what is in a file. */
const BEGINNINGS = [
  ['image/png', [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a], 0],
  ['image/jpeg', [0xff, 0xd8, 0xff], 0],
  ['image/webp', [0x57, 0x45, 0x42, 0x50], 8],
] as const;

/** The kind of a picture by its first bytes; null for anything else. Source: PNG (ISO/IEC 15948), JPEG (ITU-T T.81), WebP (RFC 9649). */
export function imageTypeOf(bytes: Uint8Array): (typeof BEGINNINGS)[number][0] | null {
  const found = BEGINNINGS.find(([, begins, at]) =>
    begins.every((byte, index) => bytes[at + index] === byte),
  );
  if (found?.[0] === 'image/webp' && Buffer.from(bytes.subarray(0, 4)).toString('latin1') !== 'RIFF')
    return null;
  return found?.[0] ?? null;
}
