import type { AnyAction } from '../engine/index.ts';
import { capital } from './views.ts';

/** One line of the log in words; several pulls of the bar in a row are one line. */
export interface LogLine {
  /** Actions it covers, first and last. */
  readonly from: number;
  readonly to: number;
  readonly words: string;
  /** What was heard, felt or seen, each said once. */
  readonly heard: readonly string[];
}

/** An action of any kind, as far as lines are made of them. */
interface Done {
  readonly type: string;
  readonly degrees?: unknown;
  readonly hold?: unknown;
  readonly box?: unknown;
}

interface Said {
  readonly code: string;
}

/** The words of a kind for its log. */
export interface LogWords<S extends Said = Said> {
  did(action: AnyAction): string;
  said(one: S): string;
  /** Boxes written one after another, all for the same place of the sheet. */
  wrote(notes: readonly AnyAction[]): string;
}

/** The log, told. `seen` holds what each action let the student perceive. */
export function logLines<S extends Said>(
  actions: readonly AnyAction[],
  seen: readonly { readonly said: readonly S[] }[],
  words: LogWords<S>,
): LogLine[] {
  const lines: LogLine[] = [];
  let from = 0;
  while (from < actions.length) {
    const to = lastInLine(actions, from);
    const group = actions.slice(from, to + 1);
    lines.push({
      from,
      to,
      words: groupWords(group, words),
      heard: heardIn(seen.slice(from, to + 1), words),
    });
    from = to + 1;
  }
  return lines;
}

function lastInLine(actions: readonly AnyAction[], from: number): number {
  let to = from;
  for (;;) {
    const here = actions[to];
    const next = actions[to + 1];
    if (here === undefined || next === undefined || !goOn(here, next)) return to;
    to += 1;
  }
}

/** Turns one way at one speed go on, and boxes written for one place; all else only where the very same is done again. */
function goOn(here: AnyAction, next: AnyAction): boolean {
  const [one, other] = [here as Done, next as Done];
  if (one.type !== other.type || one.hold !== undefined) return false;
  if (isTurn(one) && isTurn(other))
    return Math.sign(one.degrees) === Math.sign(other.degrees) && alike(one, other, ['degrees', 'hold']);
  return alike(one, other, one.type === 'note' ? ['box'] : []);
}

function isTurn(action: Done): action is Done & { readonly degrees: number } {
  return typeof action.degrees === 'number';
}

function alike(one: Done, other: Done, apartFrom: readonly string[]): boolean {
  const rest = (action: Done) =>
    JSON.stringify(
      Object.entries(action)
        .filter(([name, value]) => value !== undefined && !apartFrom.includes(name))
        .sort(([a], [b]) => (a < b ? -1 : 1)),
    );
  return rest(one) === rest(other);
}

function groupWords(group: readonly AnyAction[], words: LogWords<never>): string {
  const [first] = group;
  const last = group.at(-1);
  if (first === undefined || last === undefined) return '';
  if (group.length === 1) return words.did(first);
  const [one, end] = [first as Done, last as Done];
  if (one.type === 'note') return words.wrote(group);
  if (!isTurn(one)) return `${words.did(first).replace(/\.$/, '')}, ${group.length} times.`;
  const degrees = group.reduce((sum, action) => sum + Number((action as Done).degrees), 0);
  const hold = end.hold === undefined ? {} : { hold: end.hold };
  return words.did({ ...one, degrees: Math.round(degrees * 100) / 100, ...hold } as unknown as AnyAction);
}

/** `turns and pointer`: each once, in order. */
export function listed(words: readonly string[]): string {
  const each = [...new Set(words)];
  return each.length < 2 ? each.join('') : `${each.slice(0, -1).join(', ')} and ${each.at(-1)}`;
}

/** Perceptions worth a word: what only confirms that the line was done is left out. */
const PLAIN = new Set([
  'noted',
  'moved',
  'let-go',
  'turned',
  'bezel-at-zero',
  'bezel-clamped',
  'bezel-free',
  'indicator-set',
  'tip-comes-back',
  'rocked',
  'drill-taken-up',
  'marked',
  'adapter-set',
  'wrench-set',
]);

function heardIn<S extends Said>(
  seen: readonly { readonly said: readonly S[] }[],
  words: LogWords<S>,
): string[] {
  const said = seen.flatMap((one) => one.said).filter(({ code }) => !PLAIN.has(code));
  return [...new Set(said.map((one) => capital(words.said(one))))];
}
