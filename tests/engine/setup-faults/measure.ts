import { explainSetUp, type SetUpDiagnosis } from '../../../server/engine/index.ts';
import { drawRun, KINDS, type Kind, type Run } from './population.ts';

/** What was said of one run. `either` and `untold` hold the truth; `beside` names it together with something else. */
export type Said = 'named' | 'beside' | 'either' | 'untold' | 'wrong' | 'missed' | 'silent';

export interface Told {
  /** Without its log: thousands of them would fill the memory. */
  readonly run: Omit<Run, 'log' | 'plate'> & { readonly actions: number };
  readonly diagnosis: SetUpDiagnosis;
  readonly said: Said;
  /** Could anything the student did have told this fault from a good set-up? */
  readonly tellable: boolean;
}

export function tell(run: Run): Told {
  const diagnosis = explainSetUp(run.plate, run.log).find(({ position }) => position === run.position);
  if (diagnosis === undefined) throw new Error('A run has a position.');
  const { kind, habits, dial, position, effect, log } = run;
  const told = { kind, habits, dial, position, effect, actions: log.length };
  return { run: told, diagnosis, said: saidOf(run.kind, diagnosis), tellable: isTellable(run) };
}

function saidOf(kind: Kind, { how, faults, untold }: SetUpDiagnosis): Said {
  const named = how === 'one' || how === 'either';
  if (kind === 'nothing') return named ? 'wrong' : 'silent';
  const fault = kind === 'backed-up-on-base' ? 'backed-up' : kind;
  if (how === 'one' && faults.includes(fault)) return faults.length === 1 ? 'named' : 'beside';
  if (how === 'either' && faults.includes(fault)) return 'either';
  if (named) return 'wrong';
  return untold.includes(fault) ? 'untold' : 'missed';
}

/** A lean shows only to who looks along the bore; backing up on the base circle shows nowhere. */
function isTellable({ kind, log }: Run): boolean {
  if (kind === 'backed-up-on-base') return false;
  if (kind !== 'indicator-leans' && kind !== 'tip-caught') return true;
  return log.some(
    ({ action, seen }) => action.type === 'align' && seen.said.some(({ code }) => code === 'leans'),
  );
}

/** So many runs of each kind, and as many with nothing wrong as `clean` says. */
export function measure(each: number, clean: number, seed: string): Told[] {
  const of = (kind: Kind, count: number) =>
    Array.from({ length: count }, (_, n) => tell(drawRun(`${seed}/${kind}/${n}`, kind)));
  return [...KINDS.flatMap((kind) => of(kind, each)), ...of('nothing', clean)];
}
