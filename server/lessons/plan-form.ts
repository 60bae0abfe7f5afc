import { z } from 'zod';
import type { PlanRow } from './plan.ts';

/** What was sent of a plan, and what is wrong with it, by lesson. */
export interface ReadPlan {
  readonly rows: readonly PlanRow[];
  readonly what: 'keep' | 'up' | 'down' | 'add' | 'remove' | 'reset';
  /** The lesson a button belongs to; empty for none. */
  readonly key: string;
  readonly typed: Readonly<Record<string, string>>;
  readonly problems: Readonly<Record<string, string>>;
}

const form = z.record(z.string(), z.unknown()).catch({});
const DAY = /^\d{4}-\d{2}-\d{2}$/;

/** Reads the form of a plan. Lessons that are not there, or stand there twice, are passed over. */
export function readPlan(body: unknown, known: readonly string[]): ReadPlan {
  const sent = form.parse(body);
  const textOf = (name: string) => (typeof sent[name] === 'string' ? sent[name].trim() : '');
  const keys = [...new Set(textOf('order').split(','))].filter((key) => known.includes(key));
  const typed: Record<string, string> = {};
  const problems: Record<string, string> = {};
  const rows = keys.map((key): PlanRow => {
    const release = textOf(`release-${key}`);
    if (release !== '') typed[key] = release;
    const isDay = release === '' || isRealDay(release);
    if (!isDay) problems[key] = 'Write the day as year-month-day, like 2026-09-14, or leave it empty.';
    return {
      key,
      hidden: textOf(`shown-${key}`) !== 'on',
      releaseOn: isDay && release !== '' ? release : null,
    };
  });
  const [what = '', key = ''] = textOf('do').split(' ');
  const isKnown = known.includes(key);
  return {
    rows,
    what: what === 'reset' ? 'reset' : isKnown && isButton(what) ? what : 'keep',
    key: isKnown ? key : '',
    typed,
    problems,
  };
}

function isButton(what: string): what is 'up' | 'down' | 'add' | 'remove' {
  return ['up', 'down', 'add', 'remove'].includes(what);
}

function isRealDay(text: string): boolean {
  if (!DAY.test(text)) return false;
  const time = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(time.getTime()) && time.toISOString().startsWith(text);
}
