import { type AnyAction, type AnyBench, type AnySheet, type Grade, gradeAttempt } from '../engine/index.ts';
import { gradedKindOf } from '../review/index.ts';

/** One thing that is said of the work so far: where, what was seen, and why it matters. */
export interface HelpLine {
  readonly place: string;
  readonly seen: string;
  readonly why: string;
}

/** An answer to a student who asks in practice. */
export interface HelpAnswer {
  readonly head: string;
  readonly lines: readonly HelpLine[];
}

interface Said extends HelpLine {
  readonly what: 'stop' | 'mistake' | 'remark';
  readonly code: string;
  readonly criterion: string | null;
  /** What it is about, by its name alone. */
  readonly item: string;
}

/**
 * What no further work would put right by itself: it was done or written, and it is off. Every other remark may only mean that a step
 * is still to come, so it is kept back until it is asked for as the next step, or until the sheet is handed in.
 */
const DONE_AND_OFF = new Set([
  ...['slot-off-pin', 'preload-too-little', 'tip-left-the-work', 'travel-ran-out', 'travel-too-little'],
  ...['indicator-leans', 'stand-loose', 'rod-loose', 'zero-off-base-circle'],
  ...['one-pass-for-two-readings', 'readings-disagree', 'backed-up', 'return-misread', 'reading-off'],
  ...['verdict-wrong', 'limit-side-swapped', 'specification-row-wrong', 'gauge-too-short', 'gauge-too-fine'],
  ...['replaced-inside-limits', 'roller-passed', 'roller-condemned', 'let-go-at-compression'],
  ...['base-not-wiped', 'not-lined-up', 'little-preload', 'tip-left', 'no-travel-left'],
  ...['zero-off-the-stop', 'zero-off-the-flank', 'zero-off-the-deck', 'zero-off-the-base-circle'],
  ...['zero-off-the-zero-block', 'written-before-watching', 'drill-off', 'wheel-off', 'read-while-backing'],
  ...['points-off', 'points-never-shown', 'degrees-off', 'result-without-measurement', 'result-from-nothing'],
  ...['result-never-shown', 'high-spot-off', 'result-not-worked-out', 'result-off', 'setting-off'],
  ...['replaced-though-inside', 'returned-though-outside', 'block-not-wrung', 'wrench-overdue-used'],
  ...['wrench-off-used', 'adapter-not-as-stated', 'hand-off-the-mark', 'pulled-with-a-jerk'],
  ...['pulled-past-the-click', 'unit-not-the-scale', 'set-otherwise-than-written'],
  ...['verdict-not-from-result'],
]);

/** While one of these holds for an item it has not been measured through, and its set-up may still be mended. */
const STILL_SETTING_UP = new Set([
  'no-set-up',
  'not-barred',
  'lobe-never-came-up',
  'not-two-turns',
  'one-reading',
  'nothing-set-up',
  'never-moved',
]);

/** Most lines in one answer: more at once are not read. */
const MOST_LINES = 8;

/**
 * Grades what has been done and written so far and says what is off. Boxes left blank and steps still to come are not spoken of.
 * It speaks of the hidden bench as the graded page does: only for practice. Never throws.
 */
export function checkSoFar(
  bench: AnyBench,
  actions: readonly AnyAction[],
  sheet: AnySheet,
  filled: number,
): HelpAnswer {
  const all = saidOf(bench, actions, sheet);
  const underWay = new Set(all.flatMap(({ code, item }) => (STILL_SETTING_UP.has(code) ? [item] : [])));
  const said = all.filter(({ what, code, criterion, item }) => {
    if (what !== 'remark') return filled > 0;
    return DONE_AND_OFF.has(code) && !(criterion === 'setUp' && underWay.has(item));
  });
  if (said.length > 0) return { head: 'Look at this again', lines: lines(said.slice(0, MOST_LINES)) };
  if (filled === 0 && actions.length === 0)
    return { head: 'Nothing to check yet: nothing has been done, and no box is filled in.', lines: [] };
  return {
    head:
      filled === 0
        ? 'Right so far. No box is filled in yet.'
        : 'Right so far. What is still blank or still to be done was left out.',
    lines: [],
  };
}

/** What to do next: the first step that a grade would find missing now; else the next thing to look at is the sheet. */
export function nextStep(bench: AnyBench, actions: readonly AnyAction[], sheet: AnySheet): HelpAnswer {
  const open = saidOf(bench, actions, sheet).filter(
    ({ what, code, criterion }) => what === 'remark' && criterion !== null && !DONE_AND_OFF.has(code),
  );
  const first =
    open.find(({ criterion }) => criterion === 'setUp' || criterion === 'procedure') ?? open[0] ?? null;
  if (first === null)
    return {
      head: 'Every step has been done, and the sheet is filled in. Look it over, then hand it in.',
      lines: [],
    };
  return { head: 'Still to be done', lines: lines([first]) };
}

function lines(said: readonly Said[]): HelpLine[] {
  return said.map(({ place, seen, why }) => ({ place, seen, why }));
}

/** Everything a grade has to say now, in words, in its own order. */
function saidOf(bench: AnyBench, actions: readonly AnyAction[], sheet: AnySheet): Said[] {
  const grade = gradeAttempt(bench, actions, sheet);
  // Without a trace nothing is drawn: only the words are wanted.
  const parts = gradedKindOf(bench).tell({ grade, sheet, typed: {}, trace: [], momentAt: () => null });
  const told = [
    ...parts.stops.map((one) => ({ ...one, title: '', place: '' })),
    ...parts.general.map((one) => ({ ...one, title: '' })),
    ...parts.lobes.flatMap(({ position, mistakes, remarks }) =>
      [...mistakes, ...remarks].map((one) => ({ ...one, title: `Position ${position}` })),
    ),
    ...parts.items.flatMap(({ title, mistakes, remarks }) =>
      [...mistakes, ...remarks].map((one) => ({ ...one, title })),
    ),
  ];
  return told.map(({ ref, title, place, seen, why }) => {
    const [what, index, code = ''] = ref.split('.');
    return {
      what: what as Said['what'],
      code,
      criterion: what === 'remark' ? criterionAt(grade, Number(index)) : null,
      item: title,
      place: [title, place].filter((part) => part !== '').join(', '),
      seen,
      why,
    };
  });
}

function criterionAt(grade: Grade, index: number): string | null {
  return grade.remarks[index]?.criterion ?? null;
}
