import { Agent, request } from 'node:http';
import { demoPassword } from '../support/agent.ts';
import type { Round } from './barring.ts';

/** The students of `barring.ts`: each bars an attempt of their own; the demo program's six students lend them their sign-ins. */

const [url = ''] = process.argv.slice(2);
const agent = new Agent({ keepAlive: true, maxSockets: Number.POSITIVE_INFINITY });
const SECONDS = 8;
const STEPS_A_SECOND = 3;

interface Answer {
  readonly status: number;
  readonly location: string;
  readonly cookies: readonly string[];
  readonly body: string;
}

function ask(
  method: string,
  path: string,
  cookie: string,
  body?: string,
  headers: Record<string, string> = {},
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const sent = request(
      `${url}${path}`,
      {
        method,
        agent,
        headers: {
          cookie,
          ...(body === undefined ? {} : { 'content-length': Buffer.byteLength(body) }),
          ...headers,
        },
      },
      (response) => {
        const chunks: Buffer[] = [];
        response.on('data', (chunk: Buffer) => chunks.push(chunk));
        response.on('end', () =>
          resolve({
            status: response.statusCode ?? 0,
            location: response.headers.location ?? '',
            cookies: response.headers['set-cookie'] ?? [],
            body: Buffer.concat(chunks).toString(),
          }),
        );
      },
    );
    sent.on('error', reject);
    sent.end(body);
  });
}

const FORM = { 'content-type': 'application/x-www-form-urlencoded' };
const tokenIn = (body: string) => /name="_csrf" value="([^"]+)"/.exec(body)?.[1] ?? '';
const jar = (cookie: string, answer: Answer) =>
  answer.cookies.map((one) => one.split(';')[0]).join('; ') || cookie;

interface Seat {
  readonly student: string;
  readonly attempt: string;
  /** Of somebody who is not in the demo program. */
  readonly password?: string;
  next: number;
}

interface Session {
  readonly cookie: string;
  readonly csrf: string;
}

/** Signs a student in once; the token of their pages is good for all their attempts. */
async function signIn(name: string, password = demoPassword(name)): Promise<Session> {
  const page = await ask('GET', '/sign-in', '');
  const before = jar('', page);
  const form = new URLSearchParams({
    _csrf: tokenIn(page.body),
    signInName: name,
    password,
  });
  const signedIn = await ask('POST', '/sign-in', before, form.toString(), FORM);
  const cookie = jar(before, signedIn);
  const home = await ask('GET', '/', cookie);
  return { cookie, csrf: tokenIn(home.body) };
}

const sessions = new Map<string, Session>();
const seats = new Map<string, Seat>();

/** One student's barring: a step, its answer, the pause that is left of a third of a second. */
async function bar(
  seat: Seat,
  { cookie, csrf }: Session,
  until: number,
  times: number[],
  failures: { count: number },
): Promise<void> {
  // They do not all pull at the same moment.
  await new Promise((resolve) => setTimeout(resolve, Math.random() * (1000 / STEPS_A_SECOND)));
  while (performance.now() < until) {
    const start = performance.now();
    const answer = await ask(
      'POST',
      `/attempts/${seat.attempt}/actions`,
      cookie,
      JSON.stringify({ from: seat.next, actions: [{ type: 'bar', degrees: 5, speed: 20 }] }),
      { 'content-type': 'application/json', accept: 'application/json', 'x-csrf-token': csrf },
    );
    const took = performance.now() - start;
    times.push(took);
    if (answer.status === 200) seat.next += 1;
    else failures.count += 1;
    await new Promise((resolve) => setTimeout(resolve, Math.max(0, 1000 / STEPS_A_SECOND - took)));
  }
}

process.on('message', async (asked: readonly Omit<Seat, 'next'>[]) => {
  const barring: [Seat, Session][] = [];
  for (const { student, attempt, password } of asked) {
    const session = sessions.get(student) ?? (await signIn(student, password));
    sessions.set(student, session);
    const seat = seats.get(attempt) ?? { student, attempt, next: 0 };
    seats.set(attempt, seat);
    barring.push([seat, session]);
  }
  const times: number[] = [];
  const failures = { count: 0 };
  const began = performance.now();
  const cpu = process.cpuUsage();
  const until = began + SECONDS * 1000;
  await Promise.all(barring.map(([seat, session]) => bar(seat, session, until, times, failures)));
  const { user, system } = process.cpuUsage(cpu);
  const ownCore = (user + system) / 1000 / (performance.now() - began);
  const sorted = times.sort((one, other) => one - other);
  const round: Round = {
    students: asked.length,
    steps: sorted.length,
    within100ms: sorted.filter((ms) => ms < 100).length / Math.max(1, sorted.length),
    meanMs: sorted.reduce((sum, ms) => sum + ms, 0) / Math.max(1, sorted.length),
    p99Ms: sorted[Math.floor(sorted.length * 0.99)] ?? 0,
    failed: failures.count,
    ownCore,
  };
  process.send?.(round);
});
