import { createWriteStream } from 'node:fs';
import { finished } from 'node:stream/promises';
import { listCompetencies } from '../../server/competencies/index.ts';
import { openStore } from '../../server/database/open.ts';
import { FORMS, streamOf } from '../../server/exports/forms.ts';

/** Exports the evidence of everybody to a file, as the route does, and tells what it took. */
const [file = '', out = ''] = process.argv.slice(2);
const store = openStore(file);
const asOf = '2026-11-27T00:00:00.000Z';
const before = process.memoryUsage().rss / 1024 / 1024;
const start = performance.now();
const competencies = await listCompetencies(
  store.db,
  { id: 1, role: 'coordinator' } as never,
  new Date(asOf),
);
let rows = 0;
const source = {
  ...{ store, db: store.db, competencies, asOf, studentIds: [], everybody: true },
  ...{ exportedAt: asOf, exportId: 1, sectionId: null },
};
const stream = streamOf(FORMS.evidence.pieces(source), async (all) => {
  rows = all;
});
await finished(stream.pipe(createWriteStream(out)));
const milliseconds = performance.now() - start;
await store.close();
console.log(JSON.stringify({ rows, milliseconds, before, megabytes: process.resourceUsage().maxRSS / 1024 }));
