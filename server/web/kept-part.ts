import { constants, crc32, deflateRawSync } from 'node:zlib';
import type { FastifyReply } from 'fastify';

/**
 * The greater part of a page, the same for everybody who reads it: kept as bytes, plain and deflated, and put into each page where the view
 * prints `mark`. Neither encoding nor deflating it is done again for a reader.
 */
export interface KeptPart {
  readonly plain: Buffer;
  readonly deflated: Buffer;
}

/** What a view prints, unescaped, where the kept part goes. Nothing typed can look like it: there `<` is escaped. */
export const KEPT_PART_MARK = '<!--kept part-->';

export function keptPart(html: string): KeptPart {
  const plain = Buffer.from(html);
  return { plain, deflated: deflated(plain, 9) };
}

/**
 * Sends a page with its kept part, in gzip where that is asked for. `page` is the view's text and holds the mark once; otherwise it throws.
 *
 * `echoes` says that something just sent stands in the page. It is then sent as it is, since what an attacker has a browser send must not
 * show in the size of a page with something secret in it. The form token is no such thing: it is salted anew for every page.
 */
export function sendWithKeptPart(
  reply: FastifyReply,
  page: string,
  part: KeptPart,
  { echoes }: { readonly echoes: boolean },
): FastifyReply {
  const [before, after, more] = page.split(KEPT_PART_MARK);
  if (before === undefined || after === undefined || more !== undefined)
    throw new Error('a page with a kept part must hold its mark once');
  const around = [Buffer.from(before), Buffer.from(after)] as const;
  reply.type('text/html; charset=utf-8').header('vary', 'accept-encoding');
  const accepted = String(reply.request.headers['accept-encoding'] ?? '').split(/\s*,\s*/);
  if (echoes || !accepted.includes('gzip'))
    return reply.send(Buffer.concat([around[0], part.plain, around[1]]));
  return reply.header('content-encoding', 'gzip').send(gzipped(around, part));
}

// RFC 1952: ten bytes in front (no name, no time, no system), then deflated blocks, then checksum and length of what was deflated.
const GZIP_HEAD = Buffer.from([0x1f, 0x8b, 8, 0, 0, 0, 0, 0, 0, 0xff]);

function gzipped([before, after]: readonly [Buffer, Buffer], part: KeptPart): Buffer {
  const foot = Buffer.alloc(8);
  // In one piece: given a checksum to go on from and nothing to add, this version of the library answers 0.
  foot.writeUInt32LE(crc32(Buffer.concat([before, part.plain, after])), 0);
  foot.writeUInt32LE((before.length + part.plain.length + after.length) >>> 0, 4);
  return Buffer.concat([
    GZIP_HEAD,
    deflated(before, 1),
    part.deflated,
    deflateRawSync(after, { level: 1 }),
    foot,
  ]);
}

/** Blocks that end on a whole byte and are not the last, so that others may follow. */
function deflated(bytes: Buffer, level: number): Buffer {
  return deflateRawSync(bytes, { level, finishFlush: constants.Z_FULL_FLUSH });
}
