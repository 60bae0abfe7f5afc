import type { CamLiftAction, CamLiftSeen } from '../engine/index.ts';
import { actionWords, BOX_WORDS, barringWords, perceptionWords } from '../web/words/index.ts';

/** One line of the log in words; several pulls of the bar in a row are one line. */
export interface LogLine {
  /** Actions it covers, first and last. */
  readonly from: number;
  readonly to: number;
  readonly words: string;
  /** What was heard, felt or seen, each said once. */
  readonly heard: readonly string[];
}

type Bar = Extract<CamLiftAction, { type: 'bar' }>;
type Note = Extract<CamLiftAction, { type: 'note' }>;

/** The log, told. `seen` holds what each action let the student perceive. */
export function logLines(actions: readonly CamLiftAction[], seen: readonly CamLiftSeen[]): LogLine[] {
  const lines: LogLine[] = [];
  let from = 0;
  while (from < actions.length) {
    const to = lastInLine(actions, from);
    const group = actions.slice(from, to + 1);
    lines.push({ from, to, words: groupWords(group), heard: heardIn(seen.slice(from, to + 1)) });
    from = to + 1;
  }
  return lines;
}

function lastInLine(actions: readonly CamLiftAction[], from: number): number {
  let to = from;
  for (;;) {
    const here = actions[to];
    const next = actions[to + 1];
    if (here === undefined || next === undefined || !goOn(here, next)) return to;
    to += 1;
  }
}

function goOn(here: CamLiftAction, next: CamLiftAction): boolean {
  if (here.type === 'bar' && next.type === 'bar') {
    return (
      here.hold === undefined &&
      here.speed === next.speed &&
      Math.sign(here.degrees) === Math.sign(next.degrees)
    );
  }
  if (here.type === 'note' && next.type === 'note')
    return here.position === next.position && here.reading === next.reading;
  return here.type === 'lift-tip' && next.type === 'lift-tip';
}

function groupWords(group: readonly CamLiftAction[]): string {
  const [first] = group;
  if (first === undefined) return '';
  if (first.type === 'bar') {
    const bars = group.filter((action): action is Bar => action.type === 'bar');
    const degrees = bars.reduce((sum, bar) => sum + bar.degrees, 0);
    return barringWords(degrees, first.speed, bars.at(-1)?.hold);
  }
  if (first.type === 'note' && group.length > 1) {
    const boxes = new Set(
      group.filter((action): action is Note => action.type === 'note').map(({ box }) => BOX_WORDS[box]),
    );
    return `Wrote ${listed([...boxes])}, reading ${first.reading}, position ${first.position}.`;
  }
  if (first.type === 'lift-tip' && group.length > 1)
    return `Lifted the tip and let it down, ${group.length} times.`;
  return actionWords(first);
}

function listed(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

/** Perceptions worth a word: what only confirms that the line was done is left out. */
const PLAIN = new Set([
  'noted',
  'moved',
  'let-go',
  'bezel-at-zero',
  'bezel-clamped',
  'bezel-free',
  'indicator-set',
  'tip-comes-back',
]);

function heardIn(seen: readonly CamLiftSeen[]): string[] {
  const said = seen.flatMap((one) => one.said).filter(({ code }) => !PLAIN.has(code));
  return [...new Set(said.map(perceptionWords))];
}
