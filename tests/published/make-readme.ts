import { writeFileSync } from 'node:fs';
import { fromRoot } from '../../server/root.ts';
import { readmeText } from './readme.ts';

/** `npm run published`: writes the tables of published values anew. */
writeFileSync(fromRoot('tests', 'published', 'README.md'), readmeText());
console.log('Wrote tests/published/README.md');
