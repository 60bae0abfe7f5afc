import { otherKinds } from './gauged-run.ts';
import { GOALS, isReached, type Measured, measureAll } from './goals.ts';
import type { Work } from './job.ts';
import { type Population, shortWithoutNote, type Tally } from './measure.ts';

/** Simulated students, for each figure; another number may be given. */
const ATTEMPTS = Number(process.argv[2] ?? 20_000);
/** The diagnosis is adjusted by looking at the first; the second is only reported. */
const SEEDS = { 'adjusted on': 'misreaders', 'held out': 'held-out' } as const;
const ADJUSTED: string = SEEDS['adjusted on'];

const percent = (share: number) => `${(100 * share).toFixed(1)} %`;

const POPULATIONS: readonly [Population, string][] = [
  ['trade', 'Mistakes drawn as often as they are made'],
  ['alike', 'Each mistake drawn as often as the next'],
];

const WORKS: readonly [Work, string][] = [
  ['lobes', 'lobes on an engine'],
  ['both', 'half of them lobes, half drills'],
];

for (const [[population, title], [work, on]] of POPULATIONS.flatMap((one) =>
  WORKS.map((two) => [one, two] as const),
)) {
  const students = { attempts: ATTEMPTS, population, work };
  const measured = measureAll({ ...students, seed: ADJUSTED });
  const heldOut = measureAll({ ...students, seed: SEEDS['held out'] });
  console.log(`\n${title}, ${on}: ${ATTEMPTS} attempts for each figure`);
  console.log(`  ${''.padEnd(48)}${Object.keys(SEEDS).join('  ')}`);
  for (const goal of GOALS) {
    const share = goal.share(heldOut);
    const wanted =
      goal.atLeast === undefined
        ? `at most ${percent(goal.atMost ?? 1)}`
        : `at least ${percent(goal.atLeast)}`;
    const verdict = isReached(goal, share) ? 'reached' : 'NOT REACHED';
    console.log(
      `  ${goal.what.padEnd(48)}${[measured, heldOut].map((one) => percent(goal.share(one)).padStart(8)).join('  ')}   ${wanted}: ${verdict}`,
    );
  }
  more(heldOut);
  if (population === 'alike' && work === 'both') {
    matrix('Everything on the sheet', heldOut.full);
    matrix('The lift alone', heldOut.liftAlone);
  }
}
console.log('\nShort of the high point, and no note of it in the log: named so');
console.log(`  everything on the sheet ${percent(shortWithoutNote(ATTEMPTS, 'all', SEEDS['held out']))}`);
console.log(`  the lift alone ${percent(shortWithoutNote(ATTEMPTS, 'lift', SEEDS['held out']))}`);

otherKinds();

function more({ full, liftAlone, two }: Measured): void {
  const shares = (tally: Tally, pick: (of: Tally) => number) =>
    percent(pick(tally) / tally.attempts).padStart(8);
  console.log(`  ${'(full sheet, lift alone, two at once)'.padEnd(48)}`);
  const line = (what: string, pick: (of: Tally) => number) =>
    console.log(
      `  ${what.padEnd(48)}${[full, liftAlone, two].map((tally) => shares(tally, pick)).join('  ')}`,
    );
  line('the truth named, or one of either … or …', ({ among }) => among);
  line('sheets that another mistake would have left too', ({ ambiguous }) => ambiguous);
  console.log('  by dial, named (named or colliding), full sheet and lift alone');
  for (const [dial, of] of [...full.byDial].sort(([a], [b]) => a.localeCompare(b))) {
    const alone = liftAlone.byDial.get(dial) ?? of;
    const said = [of, alone].map(
      ({ attempts, named, colliding }) =>
        `${percent(named / attempts)} (${percent((named + colliding) / attempts)})`,
    );
    console.log(`    ${dial.padEnd(40)}${said.join('   ')}`);
  }
}

/** Rows: the mistake made. Columns: what was said of it, in hundredths of the row. */
function matrix(title: string, tally: Tally): void {
  const kinds = [...tally.matrix.keys()].sort();
  const columns = [...kinds.map((_, index) => String(index + 1)), 'either', 'wrong e.', 'two', 'none'];
  console.log(`\n${title}: rows made, columns named, in % of the row`);
  console.log(
    `${''.padEnd(26)}${columns.map((column) => column.padStart(column.length > 2 ? 9 : 4)).join('')}`,
  );
  for (const [index, kind] of kinds.entries()) {
    const cells = tally.matrix.get(kind) ?? new Map<string, number>();
    const total = [...cells.values()].reduce((sum, one) => sum + one, 0);
    const share = (fits: (said: string) => boolean) =>
      [...cells].reduce((sum, [said, times]) => sum + (fits(said) ? times : 0), 0) / total;
    const isEither = (said: string) => said.includes(' | ');
    const values = [
      ...kinds.map((one) => share((said) => said === one)),
      share((said) => isEither(said) && said.split(' | ').includes(kind)),
      share((said) => isEither(said) && !said.split(' | ').includes(kind)),
      share((said) => said.includes(' + ')),
      share((said) => said === 'unexplained' || said === 'nothing'),
    ];
    const written = values.map((value, column) =>
      (value === 0 ? '·' : (100 * value).toFixed(value < 0.1 ? 1 : 0)).padStart(
        column < kinds.length ? 4 : 9,
      ),
    );
    console.log(`${String(index + 1).padStart(2)} ${kind.padEnd(23)}${written.join('')}`);
  }
}
