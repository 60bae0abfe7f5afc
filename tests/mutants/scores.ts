import { readFileSync } from 'node:fs';
import { fromRoot } from '../../server/root.ts';
import { FOLDERS, isIn } from './folders.ts';

interface Mutant {
  readonly status: string;
  readonly mutatorName: string;
  readonly replacement: string;
  readonly location: { readonly start: { readonly line: number; readonly column: number } };
}

interface Report {
  readonly files: Readonly<Record<string, { readonly source: string; readonly mutants: readonly Mutant[] }>>;
}

/** Of the mutants that a test could notice, the share that one did; and every one that none did, where it stands. */
export function printScores(survivorsToo = true): void {
  const report = JSON.parse(readFileSync(fromRoot('.cache', 'mutants-so-far.json'), 'utf8')) as Report;
  for (const folder of Object.keys(FOLDERS)) {
    const files = Object.entries(report.files).filter(([name]) => isIn(folder, name));
    const mutants = files.flatMap(([, file]) => file.mutants);
    if (mutants.length === 0) continue;
    const count = (...statuses: string[]) => mutants.filter(({ status }) => statuses.includes(status)).length;
    const noticed = count('Killed', 'Timeout');
    const counted = noticed + count('Survived', 'NoCoverage');
    console.log(
      `${folder.padEnd(20)} ${((100 * noticed) / counted).toFixed(1).padStart(5)} %  of ${counted}: ` +
        `${count('Killed')} killed, ${count('Timeout')} timed out, ${count('Survived')} survived, ${count('NoCoverage')} not reached`,
    );
    if (survivorsToo)
      for (const [name, { source, mutants: all }] of files) list(name, source.split('\n'), all);
  }
}

function list(name: string, lines: readonly string[], mutants: readonly Mutant[]): void {
  for (const { status, location, replacement } of mutants) {
    if (status !== 'Survived' && status !== 'NoCoverage') continue;
    const { line, column } = location.start;
    const code = lines[line - 1]?.trim() ?? '';
    console.log(
      `  ${name}:${line}:${column} ${status}\n    ${code}\n    → ${replacement.replace(/\s+/g, ' ').slice(0, 110)}`,
    );
  }
}

if (process.argv[1]?.endsWith('scores.ts')) printScores();
