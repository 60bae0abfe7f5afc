import { createHash } from 'node:crypto';

/** The name space of names that are made here; drawn once. */
const DIALBENCH = Buffer.from('8f1b5d0e6c1f4b0f9a4e0c2f7d3a6b91', 'hex');

/** The UUID of a name, the same each time. Source: RFC 9562, version 5. */
export function uuidOfName(name: string): string {
  const bytes = createHash('sha1').update(DIALBENCH).update(name, 'utf8').digest().subarray(0, 16);
  bytes.writeUInt8((bytes.readUInt8(6) & 0x0f) | 0x50, 6);
  bytes.writeUInt8((bytes.readUInt8(8) & 0x3f) | 0x80, 8);
  const hex = bytes.toString('hex');
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join('-');
}

/** Such a name as it is, anything else by the UUID of it. */
export function asUuid(text: string): string {
  return /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/.test(text) ? text : uuidOfName(text);
}
