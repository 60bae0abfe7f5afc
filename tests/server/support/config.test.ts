import { describe, expect, it } from 'vitest';
import { readConfig } from '../../../server/config.ts';

describe('the settings', () => {
  it('need nothing to be set', () => {
    expect(readConfig({})).toEqual({
      host: '127.0.0.1',
      port: 3000,
      dataDir: './data',
      sessionSecret: undefined,
      secureCookies: false,
      trustProxy: false,
      demo: 'program',
      logLevel: 'warn',
    });
  });

  it('count as left out when set to nothing', () => {
    expect(readConfig({ PORT: '', SESSION_SECRET: '' })).toEqual(readConfig({}));
  });

  it.each([
    [{ PORT: 'http' }, 'The setting PORT must be a port number from 0 to 65535.'],
    [{ PORT: '65536' }, 'The setting PORT must be a port number from 0 to 65535.'],
    [{ PORT: '-1' }, 'The setting PORT must be a port number from 0 to 65535.'],
    [{ SECURE_COOKIES: 'yes' }, 'The setting SECURE_COOKIES must be true or false.'],
    [{ SESSION_SECRET: 'short' }, 'The setting SESSION_SECRET must have at least 32 characters.'],
    [{ DEMO: 'yes' }, 'The setting DEMO must be program or none.'],
    [
      { LOG_LEVEL: 'loud' },
      'The setting LOG_LEVEL must be fatal, error, warn, info, debug, trace or silent.',
    ],
  ])('that cannot be used are named in one sentence: %j', (env, sentence) => {
    expect(() => readConfig(env)).toThrow(sentence);
  });

  it.each([
    ['0', 0],
    ['65535', 65535],
  ])('take port %s', (text, port) => expect(readConfig({ PORT: text }).port).toBe(port));
});
