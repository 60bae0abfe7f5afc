import { fork } from 'node:child_process';
import { Agent, get } from 'node:http';
import { chromium } from '@playwright/test';
import { fromRoot } from '../../server/root.ts';
import { demoPassword } from '../support/agent.ts';
import { ChildServer } from '../support/child-server.ts';
import { foundChromium } from '../support/find-chromium.ts';

/** Lesson pages: how many a second beside a bare reply of the same bytes, and what one weighs without its figures' script. */

const PATH = '/lessons/measuring-injection-cam-lift';
const READERS = 8;
const ROUND_MS = 3000;
const ROUNDS = 3;

export async function lessonPages(): Promise<void> {
  const server = new ChildServer();
  await server.start();
  const browser = await chromium.launch({ executablePath: foundChromium() ?? chromium.executablePath() });
  try {
    const page = await browser.newPage();
    await page.goto(`${server.url}/sign-in`);
    await page.getByLabel('Sign-in name').fill('003201');
    await page.getByLabel('Password', { exact: true }).fill(demoPassword('003201'));
    await page.getByRole('button', { name: 'Sign in' }).click();
    // A browser that has kept nothing yet: the styles come as well.
    const fresh = await browser.newContext({ storageState: await page.context().storageState() });
    const reader = await fresh.newPage();
    const sizes = new Map<string, number>();
    reader.on('response', async (response) => {
      const { responseBodySize, responseHeadersSize } = await response.request().sizes();
      sizes.set(new URL(response.url()).pathname, responseBodySize + responseHeadersSize);
    });
    await reader.goto(`${server.url}${PATH}`, { waitUntil: 'networkidle' });
    const cookie = (await page.context().cookies()).map(({ name, value }) => `${name}=${value}`).join('; ');
    await browser.close();
    weigh(sizes);
    await against(`${server.url}${PATH}`, cookie);
  } finally {
    await browser.close();
    await server.stop();
  }
}

function weigh(sizes: ReadonlyMap<string, number>): void {
  const kept = [...sizes].filter(([path]) => !/\.woff2?$|lesson-figure/.test(path));
  const sum = kept.reduce((total, [, size]) => total + size, 0);
  const script = [...sizes].find(([path]) => path.includes('lesson-figure'))?.[1] ?? 0;
  console.log(
    `A lesson, first load without fonts and the figures' script: ${(sum / 1000).toFixed(1)} kB transferred (goal: at most 60); that script: ${(script / 1000).toFixed(1)} kB`,
  );
}

async function against(url: string, cookie: string): Promise<void> {
  const body = await ask(url, cookie, new Agent());
  const child = fork(fromRoot('tests', 'load', 'bare-server.ts'), { execArgv: ['--import', 'tsx'] });
  child.send(body);
  const address = await new Promise<string>((resolve) =>
    child.once('message', (sent) => resolve(String(sent))),
  );
  const ours: number[] = [];
  const bare: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) {
    ours.push(await perSecond(url, cookie));
    bare.push(await perSecond(`${address}/`, ''));
  }
  child.kill();
  const [best, most] = [Math.max(...ours), Math.max(...bare)];
  console.log(
    `Lesson pages signed in, ${READERS} readers, ${(Buffer.byteLength(body) / 1000).toFixed(0)} kB each: ${best.toFixed(0)} a second; a bare Fastify reply of the same bytes: ${most.toFixed(0)} a second; ratio ${(best / most).toFixed(2)} (goal: at least 0.5)`,
  );
}

async function perSecond(url: string, cookie: string): Promise<number> {
  const agent = new Agent({ keepAlive: true, maxSockets: READERS });
  const end = performance.now() + ROUND_MS;
  let asked = 0;
  await Promise.all(
    Array.from({ length: READERS }, async () => {
      while (performance.now() < end) {
        await ask(url, cookie, agent);
        asked += 1;
      }
    }),
  );
  agent.destroy();
  return asked / (ROUND_MS / 1000);
}

function ask(url: string, cookie: string, agent: Agent): Promise<string> {
  return new Promise((resolve, reject) => {
    get(url, { agent, headers: { cookie, accept: 'text/html' } }, (response) => {
      if (response.statusCode !== 200) reject(new Error(`${url} answered ${response.statusCode}`));
      const parts: Buffer[] = [];
      response.on('data', (part: Buffer) => parts.push(part));
      response.on('end', () => resolve(Buffer.concat(parts).toString()));
    }).on('error', reject);
  });
}
