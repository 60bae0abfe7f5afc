import { describe, expect, it } from 'vitest';
import { bundleAssets } from '../../../server/web/assets.ts';
import { visitor } from '../../support/agent.ts';
import { testApp } from '../../support/build.ts';

describe('the bundled files', () => {
  it('are named in the page and served to be kept for ever, fonts too', async () => {
    const assets = await bundleAssets();
    const built = await testApp({ assets });
    const agent = visitor(built.app);
    const address = assets.address('main.css') ?? '';
    expect(address).toMatch(/^\/assets\/main-[A-Z0-9]+\.css$/);
    expect((await agent.get('/sign-in')).body).toContain(`href="${address}"`);

    const css = await agent.get(address);
    expect(css.headers['content-type']).toBe('text/css; charset=utf-8');
    expect(css.headers['cache-control']).toBe('public, max-age=31536000, immutable');
    const font = /url\("?(\/assets\/[^")]+\.woff2)"?\)/.exec(css.body)?.[1] ?? '';
    expect((await agent.get(font)).headers['content-type']).toBe('font/woff2');
    await built.close();
  });

  it('load nothing from outside', async () => {
    const assets = await bundleAssets();
    const css =
      assets.file((assets.address('main.css') ?? '').replace('/assets/', ''))?.body.toString() ?? '';
    expect(css).not.toBe('');
    expect(css).not.toMatch(/url\("?(https?:)?\/\//);
  });

  it.each(['main.css', '..%2Fpackage.json', 'main-AAAAAAAA.css', '%00'])(
    'are nothing else: %s',
    async (file) => {
      const built = await testApp({ assets: await bundleAssets() });
      expect((await visitor(built.app).get(`/assets/${file}`)).statusCode).toBe(404);
      await built.close();
    },
  );
});
