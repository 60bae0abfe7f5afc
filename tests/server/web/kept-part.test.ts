import { gunzipSync } from 'node:zlib';
import fc from 'fast-check';
import Fastify from 'fastify';
import { describe, expect, it } from 'vitest';
import { KEPT_PART_MARK, keptPart, sendWithKeptPart } from '../../../server/web/kept-part.ts';

async function answer(page: string, kept: string, accepts: string, echoes = false) {
  const app = Fastify();
  app.get('/', async (_request, reply) => sendWithKeptPart(reply, page, keptPart(kept), { echoes }));
  return app.inject({ url: '/', headers: { 'accept-encoding': accepts } });
}

describe('a page around a kept part', () => {
  it('is, unpacked by the general library, the very text it would be without', async () => {
    const text = fc.string({ unit: 'grapheme', maxLength: 3000 });
    await fc.assert(
      fc.asyncProperty(text, text, text, async (before, kept, after) => {
        const page = `${before}${KEPT_PART_MARK}${after}`;
        const packed = await answer(page, kept, 'br, gzip');
        expect(packed.headers['content-encoding']).toBe('gzip');
        expect(gunzipSync(packed.rawPayload).toString()).toBe(`${before}${kept}${after}`);
        const plain = await answer(page, kept, '');
        expect(plain.headers['content-encoding']).toBeUndefined();
        expect(plain.body).toBe(`${before}${kept}${after}`);
      }),
      { numRuns: 60 },
    );
  });

  it('is never made smaller when it repeats what was sent', async () => {
    const sent = await answer(`a${KEPT_PART_MARK}b`, 'kept', 'gzip', true);
    expect(sent.headers['content-encoding']).toBeUndefined();
    expect(sent.body).toBe('akeptb');
  });

  it.each([['no mark'], [`two ${KEPT_PART_MARK} ${KEPT_PART_MARK}`]])('refuses %s', async (page) => {
    expect((await answer(page, 'kept', 'gzip')).statusCode).toBe(500);
  });
});
