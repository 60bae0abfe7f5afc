import { z } from 'zod';

/** A number of bytes is enough for a class's roster; nothing else that is sent comes near it. */
export const UPLOAD_BYTES = 1_000_000;

export interface Config {
  readonly host: string;
  readonly port: number;
  readonly dataDir: string;
  /** Signs the session cookie. Left out: made once and kept in the data folder. */
  readonly sessionSecret?: string | undefined;
  /** Cookies over https only, and tell browsers to stay on https. */
  readonly secureCookies: boolean;
  /** Addresses of the proxy in front, whose word about https and the caller's address is taken. */
  readonly trustProxy: boolean | string;
  readonly demo: 'program' | 'none';
  readonly logLevel: 'fatal' | 'error' | 'warn' | 'info' | 'debug' | 'trace' | 'silent';
}

/** A setting in the environment cannot be used; the message is one plain sentence naming it. */
export class ConfigProblem extends Error {}

const onOff = z
  .enum(['true', 'false'], { error: 'must be true or false' })
  .transform((value) => value === 'true');

/** Every setting there is; the README must name each. */
export const environment = z.object({
  HOST: z.string().default('127.0.0.1'),
  PORT: z
    .string()
    .regex(/^\d{1,5}$/, 'must be a port number from 0 to 65535')
    .transform(Number)
    .refine((port) => port <= 65535, 'must be a port number from 0 to 65535')
    .default(3000),
  DATA_DIR: z.string().default('./data'),
  SESSION_SECRET: z.string().min(32, 'must have at least 32 characters').optional(),
  SECURE_COOKIES: onOff.default(false),
  TRUST_PROXY: z
    .string()
    .transform((value) => (value === 'true' ? true : value === 'false' ? false : value))
    .default(false),
  DEMO: z.enum(['program', 'none'], { error: 'must be program or none' }).default('program'),
  LOG_LEVEL: z
    .enum(['fatal', 'error', 'warn', 'info', 'debug', 'trace', 'silent'], {
      error: 'must be fatal, error, warn, info, debug, trace or silent',
    })
    .default('warn'),
});

/** Reads the settings from the environment; one set to nothing counts as left out. Throws ConfigProblem. */
export function readConfig(env: Readonly<Record<string, string | undefined>>): Config {
  const given = Object.fromEntries(Object.entries(env).filter(([, value]) => value !== ''));
  const result = environment.safeParse(given);
  if (!result.success) {
    const issue = result.error.issues[0];
    throw new ConfigProblem(`The setting ${String(issue?.path[0])} ${issue?.message}.`);
  }
  const { data } = result;
  return {
    host: data.HOST,
    port: data.PORT,
    dataDir: data.DATA_DIR,
    sessionSecret: data.SESSION_SECRET,
    secureCookies: data.SECURE_COOKIES,
    trustProxy: data.TRUST_PROXY,
    demo: data.DEMO,
    logLevel: data.LOG_LEVEL,
  };
}
