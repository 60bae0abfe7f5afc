import { describe, expect, it } from 'vitest';
import { buildApp } from '../../../server/app.ts';
import { visitor } from '../../support/agent.ts';
import { TEST_SECRET, testApp, testStore } from '../../support/build.ts';

describe('every page', () => {
  it('lets a browser load from here and nowhere else', async () => {
    const built = await testApp();
    for (const url of ['/sign-in', '/no-such-page', '/assets/none.css']) {
      const { headers } = await visitor(built.app).get(url);
      expect(String(headers['content-security-policy']).split(';').sort()).toEqual([
        "base-uri 'none'",
        "connect-src 'self'",
        "default-src 'none'",
        "font-src 'self'",
        "form-action 'self'",
        "frame-ancestors 'none'",
        "img-src 'self' data:",
        "script-src 'self'",
        "style-src 'self'",
      ]);
      expect(headers).toMatchObject({
        'x-content-type-options': 'nosniff',
        'referrer-policy': 'same-origin',
      });
      // On plain http this would lock browsers out.
      expect(headers['strict-transport-security']).toBeUndefined();
    }
    await built.close();
  });

  it('tells browsers to stay on https, and marks its cookie, where that is set', async () => {
    const database = await testStore();
    const config = { secureCookies: true, trustProxy: true, logLevel: 'silent' as const };
    const app = await buildApp(config, { database, sessionSecret: TEST_SECRET });
    const page = await app.inject({ url: '/sign-in', headers: { 'x-forwarded-proto': 'https' } });
    expect(page.headers['strict-transport-security']).toContain('max-age=31536000');
    expect(page.cookies[0]).toMatchObject({ secure: true });
    await app.close();
    await database.close();
  });
});
