import type { FastifyInstance, InjectOptions, LightMyRequestResponse } from 'fastify';
import { readDemoProgram } from '../../server/commands/load-program.ts';

type Fields = Readonly<Record<string, string>>;

/** A browser without the screen: it keeps the cookie and sends the token that a form of ours would. */
export interface Agent {
  get(url: string, headers?: Fields): Promise<LightMyRequestResponse>;
  /** Sends a form; `_csrf` is filled in unless given. */
  post(url: string, fields?: Fields, headers?: Fields): Promise<LightMyRequestResponse>;
  /** Sends JSON with the token in its header, and wants JSON back. */
  postJson(url: string, body: unknown): Promise<LightMyRequestResponse>;
  /** Sends a multipart form with one file. */
  postFile(
    url: string,
    file: { field: string; name: string; body: Buffer },
    fields?: Fields,
  ): Promise<LightMyRequestResponse>;
  /** The session cookie as `name=value`, or '' when there is none. */
  cookie(): string;
  /** The token of the last page that held one. */
  token(): Promise<string>;
}

/** A visitor who is not signed in. */
export function visitor(app: FastifyInstance): Agent {
  return agentWith(app, '');
}

/** Somebody whose browser already holds this cookie. */
export function agentWith(app: FastifyInstance, held: string): Agent {
  let cookie = held;
  let token = '';

  async function send(options: InjectOptions): Promise<LightMyRequestResponse> {
    const response = await app.inject({
      ...options,
      headers: { accept: 'text/html', ...options.headers, ...(cookie && { cookie }) },
    });
    for (const set of response.cookies) {
      cookie = set.value === '' ? '' : `${set.name}=${encodeURIComponent(set.value)}`;
      // A token belongs to its session.
      token = '';
    }
    token = /name="_csrf" value="([^"]+)"/.exec(response.body)?.[1] ?? token;
    return response;
  }

  async function tokenNow(): Promise<string> {
    // Every signed-in page has the sign-out form; a visitor's sign-in page has its own.
    if (!token) await send({ method: 'GET', url: '/password' });
    if (!token) await send({ method: 'GET', url: '/sign-in' });
    return token;
  }

  return {
    get: (url, headers = {}) => send({ method: 'GET', url, headers }),
    async post(url, fields = {}, headers = {}) {
      const payload = new URLSearchParams({
        _csrf: fields._csrf ?? (await tokenNow()),
        ...fields,
      }).toString();
      return send({
        method: 'POST',
        url,
        payload,
        headers: { 'content-type': 'application/x-www-form-urlencoded', ...headers },
      });
    },
    async postJson(url, body) {
      return send({
        method: 'POST',
        url,
        payload: JSON.stringify(body),
        headers: {
          accept: 'application/json',
          'content-type': 'application/json',
          'x-csrf-token': await tokenNow(),
        },
      });
    },
    async postFile(url, file, fields = {}) {
      const form = new FormData();
      for (const [name, value] of Object.entries({ _csrf: await tokenNow(), ...fields }))
        form.set(name, value);
      form.set(file.field, new Blob([new Uint8Array(file.body)], { type: 'text/csv' }), file.name);
      const encoded = new Response(form);
      return send({
        method: 'POST',
        url,
        payload: Buffer.from(await encoded.arrayBuffer()),
        headers: { 'content-type': encoded.headers.get('content-type') ?? '' },
      });
    },
    cookie: () => cookie,
    token: tokenNow,
  };
}

/** Signs somebody in through the page, with the password of the demo program unless another is given. */
export async function signIn(app: FastifyInstance, signInName: string, password?: string): Promise<Agent> {
  const agent = visitor(app);
  await agent.get('/sign-in');
  const response = await agent.post('/sign-in', {
    signInName,
    password: password ?? demoPassword(signInName),
  });
  if (response.statusCode !== 303) throw new Error(`${signInName} could not sign in: ${response.statusCode}`);
  return agent;
}

/** The demo program's password for a sign-in name. */
export function demoPassword(signInName: string): string {
  const person = readDemoProgram().people.find((one) => one.signInName === signInName);
  if (!person) throw new Error(`The demo program has nobody called ${signInName}`);
  return person.password;
}
