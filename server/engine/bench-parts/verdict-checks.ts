import type { FollowUp } from '../exercises/cam-lift/types.ts';
import { type Check, failed, passed } from '../grading/tally.ts';
import type { Stop } from '../grading/types.ts';
import type { ItemEvidence } from './grade.ts';

/** Shares of an item's verdict points. Common practice, no source. */
const WORTH = { verdict: 12 / 20, next: 8 / 20 };

/**
 * Verdicts and follow-ups of all items. A verdict is judged against the results the student wrote. Passing a bad part that the
 * gauge did show loses the whole criterion; passing any bad part is a stop, whatever the points. `rightNext`: what to do with a verdict other
 * than inside, where two set-ups have no part in it.
 */
export function checkItemVerdicts<S, A>(
  items: readonly ItemEvidence<S, A>[],
  pointsPerItem: number,
  rightNext?: (verdict: string) => readonly FollowUp[],
): { readonly checks: readonly Check[]; readonly stops: readonly Stop[] } {
  const passedBad = items.filter(({ written, truly }) => written.verdict === 'inside' && truly !== 'inside');
  const stops = passedBad.map(
    ({ item, run, truly }): Stop => ({
      code: 'bad-part-passed',
      position: item,
      at: run?.at ?? null,
      values: { truly },
    }),
  );
  // A good reading speaks for itself; any other answers for what the gauge showed.
  const missed = passedBad.filter(
    (item) => item.fromShown !== 'inside' && !(isGoodReading(item) && item.fromWritten === 'inside'),
  );
  if (missed.length > 0) {
    const checks = items.map((item) =>
      failed('verdict', pointsPerItem, {
        code: missed.includes(item) ? 'bad-part-passed' : 'lost-with-bad-part',
        position: item.item,
        at: null,
      }),
    );
    return { checks, stops };
  }
  const checks = items.flatMap((item) => [
    checkVerdict(item, pointsPerItem * WORTH.verdict),
    checkNext(item, pointsPerItem * WORTH.next, rightNext),
  ]);
  return { checks, stops };
}

function isGoodReading<S, A>({ results }: ItemEvidence<S, A>): boolean {
  return results.every(
    ({ from, written, shown, within = 1 }) =>
      from === 'angle' ||
      from === 'ratio' ||
      from === 'degrees' ||
      (written !== null && shown !== null && Math.abs(written - shown) <= within + 1e-6),
  );
}

function checkVerdict<S, A>({ item, written, fromWritten }: ItemEvidence<S, A>, worth: number): Check {
  const fail = (code: string, values = {}) =>
    failed('verdict', worth, { code, position: item, at: null, values });
  if (written.verdict === null) return fail('no-verdict');
  if (fromWritten === null) return fail('verdict-without-result');
  return written.verdict === fromWritten
    ? passed('verdict', worth)
    : fail('verdict-not-from-result', { right: fromWritten, written: written.verdict });
}

/** What to do next follows from the verdict written: a wrong verdict has been paid for already. */
function checkNext<S, A>(
  { item, written, setUpsAgree }: ItemEvidence<S, A>,
  worth: number,
  rightNext?: (verdict: string) => readonly FollowUp[],
): Check {
  const fail = (code: string, values = {}, met = 0) =>
    failed('verdict', worth, { code, position: item, at: null, values }, met);
  const { next, verdict } = written;
  if (next === null) return fail('no-next');
  if (verdict === null) return fail('next-without-a-verdict');
  if (verdict === 'inside') {
    if (next === 'return-to-service') return passed('verdict', worth);
    if (next === 'replace') return fail('replaced-though-inside');
    return fail('another-next-is-better', { written: next, right: ['return-to-service'] }, 0.5);
  }
  // No part is condemned on one set-up.
  const usual: readonly FollowUp[] = setUpsAgree ? ['replace', 'correct-set-up'] : ['measure-again'];
  const right = rightNext?.(verdict) ?? usual;
  if (right.includes(next)) return passed('verdict', worth);
  if (next === 'replace' && rightNext === undefined) return fail('condemned-on-one-setting');
  if (next === 'return-to-service') return fail('returned-though-outside', { verdict });
  return fail('another-next-is-better', { written: next, right }, 0.5);
}
