import { existsSync, readdirSync } from 'node:fs';
import { basename, extname } from 'node:path';
import { brotliCompressSync, constants, gzipSync } from 'node:zlib';
import { build } from 'esbuild';
import type { FastifyInstance } from 'fastify';
import fp from 'fastify-plugin';
import { fromRoot } from '../root.ts';
import { NotFound } from './errors.ts';

export interface Assets {
  /** The address of a bundled entry, `practice.js` or `main.css`; undefined when there is none. */
  address(name: string): string | undefined;
  /** The file behind `/assets/<file>`. */
  file(name: string): AssetFile | undefined;
}

export interface AssetFile {
  readonly type: string;
  readonly body: Buffer;
  /** The same made smaller, by the name a browser accepts it under, best first; none for what is small already. */
  readonly smaller: readonly (readonly [encoding: 'br' | 'gzip', body: Buffer])[];
}

const TYPES: Readonly<Record<string, string>> = {
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.woff2': 'font/woff2',
  '.woff': 'font/woff',
  '.svg': 'image/svg+xml',
};

/** What a server without bundled files serves: nothing. */
export const NO_ASSETS: Assets = { address: () => undefined, file: () => undefined };

/**
 * Bundles the browser's code and the styles in memory: every `views/client/*.entry.ts` and `views/style/main.css`.
 * Names carry a hash of their content. Throws when something does not compile.
 */
export async function bundleAssets(): Promise<Assets> {
  const entryPoints = listEntries();
  if (entryPoints.length === 0) return NO_ASSETS;
  const result = await build({
    entryPoints,
    absWorkingDir: fromRoot(),
    bundle: true,
    write: false,
    metafile: true,
    outdir: fromRoot('assets'),
    entryNames: '[name]-[hash]',
    assetNames: '[name]-[hash]',
    publicPath: '/assets/',
    format: 'esm',
    target: 'es2022',
    minify: true,
    logLevel: 'silent',
    loader: { '.woff2': 'file', '.woff': 'file', '.svg': 'file' },
  });

  const files = new Map<string, AssetFile>();
  for (const { path, contents } of result.outputFiles) {
    const type = TYPES[extname(path)];
    if (type !== undefined) files.set(basename(path), assetFile(type, Buffer.from(contents)));
  }
  const addresses = new Map<string, string>();
  for (const [path, output] of Object.entries(result.metafile.outputs)) {
    if (!output.entryPoint) continue;
    const name = basename(output.entryPoint).replace(/(\.entry)?\.(ts|css)$/, extname(path));
    addresses.set(name, `/assets/${basename(path)}`);
  }
  return {
    address: (name) => addresses.get(name),
    file: (name) => files.get(name),
  };
}

/**
 * A file with its smaller forms, made once at the start. Of pages only those around a kept part are made smaller, and never one that repeats
 * what was sent to it (`kept-part.ts`).
 */
function assetFile(type: string, body: Buffer): AssetFile {
  if (type.startsWith('font/')) return { type, body, smaller: [] };
  const quality = { params: { [constants.BROTLI_PARAM_QUALITY]: 9 } };
  return {
    type,
    body,
    smaller: [
      ['br', brotliCompressSync(body, quality)],
      ['gzip', gzipSync(body, { level: 9 })],
    ],
  };
}

function listEntries(): { in: string; out: string }[] {
  const client = fromRoot('views', 'client');
  const scripts = existsSync(client) ? readdirSync(client).filter((name) => name.endsWith('.entry.ts')) : [];
  const entries = scripts.map((name) => ({
    in: `${client}/${name}`,
    out: name.slice(0, -'.entry.ts'.length),
  }));
  const style = fromRoot('views', 'style', 'main.css');
  if (existsSync(style)) entries.push({ in: style, out: 'main' });
  return entries;
}

/** Serves what was bundled. The hash in the name lets browsers keep it for ever. */
export const assets = fp(async (app: FastifyInstance, options: { assets: Assets }) => {
  app.get<{ Params: { file: string } }>(
    '/assets/:file',
    { config: { access: 'public' } },
    async (request, reply) => {
      const found = options.assets.file(request.params.file);
      if (!found) throw new NotFound();
      const accepted = String(request.headers['accept-encoding'] ?? '').split(/\s*,\s*/);
      const smaller = found.smaller.find(([encoding]) => accepted.includes(encoding));
      reply
        .type(found.type)
        .header('cache-control', 'public, max-age=31536000, immutable')
        .header('vary', 'accept-encoding');
      if (smaller === undefined) return reply.send(found.body);
      return reply.header('content-encoding', smaller[0]).send(smaller[1]);
    },
  );

  // Browsers ask for it whatever the page says; there is none, and that is no fault.
  app.get('/favicon.ico', { config: { access: 'public' } }, async (_request, reply) =>
    reply.code(204).header('cache-control', 'public, max-age=86400').send(),
  );
});
