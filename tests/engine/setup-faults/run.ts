import { GOALS, isLarge, isReached } from './goals.ts';
import { measure, type Told } from './measure.ts';
import { KINDS, type Kind } from './population.ts';

const EACH = Number(process.argv[2] ?? 400);
const percent = (share: number) => `${(100 * share).toFixed(1)} %`;

/** The first seeds are those looked at while the signs were being weighed, the others were never looked at. */
const SEEDS = [
  ['seen', 'Seeds looked at while the signs were weighed'],
  ['laid-by', 'Seeds kept back'],
] as const;

for (const [seed, title] of SEEDS) {
  const told = measure(EACH, 5 * EACH, seed);
  console.log(
    `\n${title}: ${told.length} runs, ${EACH} of each kind of fault and ${5 * EACH} with nothing wrong`,
  );
  for (const goal of GOALS) {
    const share = goal.share(told);
    const wanted =
      goal.atLeast === undefined
        ? `at most ${percent(goal.atMost ?? 1)}`
        : `at least ${percent(goal.atLeast)}`;
    console.log(
      `  ${goal.what.padEnd(48)}${percent(share).padStart(8)}   ${wanted}: ${isReached(goal, share) ? 'reached' : 'NOT REACHED'}`,
    );
  }
  matrix(told);
  byHabit(told);
}

/** Rows: what was so. Columns: what was said of it, in % of the row; all sizes of fault. */
function matrix(told: readonly Told[]): void {
  const kinds: readonly Kind[] = [...KINDS, 'nothing'];
  const columns = [...kinds.slice(0, -1), 'either', 'two', 'untold', 'none'];
  console.log('\n  Rows: what was so (runs, of them over two graduations). Columns: named, in % of the row');
  console.log(`${''.padEnd(36)}${columns.map((_, n) => String(n + 1).padStart(5)).join('')}`);
  for (const [index, kind] of kinds.entries()) {
    const row = told.filter(({ run }) => run.kind === kind);
    const cells = columns.map((column) => row.filter((one) => columnOf(one) === column).length / row.length);
    const large = row.filter(isLarge).length;
    const written = cells.map((value) =>
      (value === 0 ? '·' : (100 * value).toFixed(value < 0.1 ? 1 : 0)).padStart(5),
    );
    console.log(
      `  ${String(index + 1).padStart(2)} ${kind.padEnd(20)}${`${row.length} (${large})`.padStart(11)}${written.join('')}`,
    );
  }
  console.log(
    `  columns ${kinds.length} to ${columns.length}: ${columns.slice(kinds.length - 1).join(', ')}`,
  );
}

function columnOf({ diagnosis: { how, faults } }: Told): string {
  if (how === 'one') return faults.length === 1 ? (faults[0] ?? '') : 'two';
  return how === 'either' ? 'either' : how === 'indistinguishable' ? 'untold' : 'none';
}

function byHabit(told: readonly Told[]): void {
  console.log('\n  By student: faults over two graduations named, and false alarms with nothing wrong');
  for (const name of new Set(told.map(({ run }) => run.habits.name))) {
    const own = told.filter(({ run }) => run.habits.name === name);
    const [named, ,] = GOALS;
    const alarms = GOALS.find(({ what }) => what.startsWith('nothing wrong'));
    console.log(
      `    ${name.padEnd(18)}${percent(named?.share(own) ?? 0).padStart(8)}${percent(alarms?.share(own) ?? 0).padStart(8)}`,
    );
  }
}
