import { type AddressInfo, connect, type Socket } from 'node:net';
import Fastify, { type FastifyInstance } from 'fastify';
import { afterEach, expect, test } from 'vitest';
import { closing } from '../../../server/web/closing.ts';

const FAREWELL_MS = 1_000;
const sockets: Socket[] = [];
afterEach(() => {
  for (const socket of sockets.splice(0)) socket.destroy();
});

/** A server whose `/slow` answers when `answer` is called, and never by itself. */
async function listening(): Promise<{ app: FastifyInstance; port: number; answer: () => void }> {
  const app = Fastify();
  await app.register(closing, { farewellMs: FAREWELL_MS });
  let answer = () => {};
  app.get('/quick', async () => 'quick');
  app.get('/slow', async () => {
    await new Promise<void>((resolve) => {
      answer = resolve;
    });
    return 'slow and whole';
  });
  await app.listen({ host: '127.0.0.1', port: 0 });
  const { port } = app.server.address() as AddressInfo;
  return { app, port, answer: () => answer() };
}

/** A connection and what came back on it so far. */
async function connected(port: number, ask = ''): Promise<{ socket: Socket; received: () => string }> {
  const socket = connect({ host: '127.0.0.1', port });
  sockets.push(socket);
  let text = '';
  socket.on('data', (chunk) => {
    text += chunk;
  });
  await new Promise((resolve) => socket.once('connect', resolve));
  if (ask !== '') socket.write(ask);
  await pause(100);
  return { socket, received: () => text };
}

const get = (path: string) => `GET ${path} HTTP/1.1\r\nhost: here\r\n\r\n`;
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

/** Whether the server stopped before the time for requests under way was over. */
async function stopsAtOnce(app: FastifyInstance): Promise<boolean> {
  return Promise.race([app.close().then(() => true), pause(FAREWELL_MS / 2).then(() => false)]);
}

test('a connection on which nothing was asked does not keep the server from stopping', async () => {
  const { app, port } = await listening();
  await connected(port);
  expect(await stopsAtOnce(app)).toBe(true);
});

test('nor does one that is kept for the next request', async () => {
  const { app, port } = await listening();
  const { received } = await connected(port, get('/quick'));
  expect(received()).toContain('quick');
  expect(await stopsAtOnce(app)).toBe(true);
});

test('a request under way is answered before the server stops', async () => {
  const { app, port, answer } = await listening();
  const { received } = await connected(port, get('/slow'));
  const closed = app.close();
  await pause(100);
  expect(received()).toBe('');
  answer();
  await Promise.race([closed, pause(FAREWELL_MS / 2).then(() => Promise.reject(new Error('it waits on')))]);
  expect(received()).toContain('slow and whole');
});

test('one that is never answered is given up when its time is over', async () => {
  const { app, port } = await listening();
  const { socket, received } = await connected(port, get('/slow'));
  const ended = new Promise((resolve) => socket.once('close', resolve));
  const from = performance.now();
  await app.close();
  await ended;
  expect(performance.now() - from).toBeGreaterThanOrEqual(FAREWELL_MS - 50);
  expect(received()).toBe('');
});
