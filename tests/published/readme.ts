import { ALL_CASES } from './all-cases.ts';
import type { PublishedCase } from './published-case.ts';

const INTRODUCTION = `# Published values

Numbers from outside, and what the engine gives for them. The tables are written by \`npm run published\` from the same cases the tests
assert; a test fails where this page is behind. Nothing here was made by running the engine.

*Checked* says how far the published value itself was: **seen** in a stored public copy of the source (or of a page that quotes it),
**from memory** of the source, or **computed** from its formula by other means.

Four more folders have tests of their own, each with its sources: [motion-laws](motion-laws/README.md), [units](units/README.md),
[dial-readings](dial-readings/README.md) and [four-stroke](four-stroke/README.md).

Three sets may not be copied: Mavro (NIST StRD), the vignette of qualityTools and the helicopter times of *Six Sigma with R*. They are tested where their
files lie beside the project, and the run says so where they do not. In NIST StRD, "digits" is how many digits of the certified value ours has right;
SmLs07's values cannot be held exactly in a double, so no method on doubles does much better than four.
`;

/** The whole page. */
export function readmeText(): string {
  const folders = Object.entries(ALL_CASES);
  const count = folders.reduce((sum, [, cases]) => sum + cases.length, 0);
  const tables = folders.map(
    ([folder, cases]) => `## ${folder} (${cases.length})\n\n${table(folder, cases)}`,
  );
  return `${INTRODUCTION}\n${count} values.\n\n${tables.join('\n\n')}\n`;
}

function table(folder: string, cases: readonly PublishedCase[]): string {
  const lines = cases.map((one) => {
    const ours = shown(one, folder === 'nist-strd' ? 16 : 12);
    const cells = [one.what, one.source, one.checked, one.published, ours, difference(one, ours, folder)];
    return `| ${cells.join(' | ')} |`;
  });
  return [
    '| value | source | checked | published | ours | difference |',
    '|---|---|---|---|---|---|',
    ...lines,
  ].join('\n');
}

/** Ours to three digits more than the print has: enough to see by how much it differs. At most so many that every machine gives the same. */
function shown({ published, ours }: PublishedCase, most: number): string {
  const value = ours();
  if (typeof value === 'string') return value;
  const significant = published
    .toLowerCase()
    .replace(/e.*$/, '')
    .replace(/[^0-9]/g, '')
    .replace(/^0+/, '').length;
  return String(Number(value.toPrecision(Math.min(most, Math.max(1, significant) + 3))));
}

function difference({ published }: PublishedCase, ours: string, folder: string): string {
  const [print, value] = [Number(published), Number(ours)];
  if (!Number.isFinite(print)) return published === ours ? 'none' : 'differs';
  const apart = value - print;
  const written = apart === 0 ? '0' : apart.toExponential(0);
  if (folder !== 'nist-strd') return written;
  const correct = apart === 0 ? 15 : Math.min(15, -Math.log10(Math.abs(apart / print)));
  return `${written}, ${correct.toFixed(1)} digits`;
}
