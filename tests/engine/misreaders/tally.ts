import type { NamedMistake } from '../../../server/engine/index.ts';

/** What was said of one student who misread in a known way. */
export interface Told {
  readonly mistake: string;
  readonly where: string;
  /** `named`: that alone; `among`: one of two that make the same; `unexplained`: said that nothing explains it; `wrong`: another was named. */
  readonly how: 'named' | 'among' | 'unexplained' | 'wrong';
  readonly said: string;
}

/** Compares what was named with what was done. */
export function tellFrom(mistake: string, where: string, named: readonly NamedMistake[]): Told {
  const said = named.map(({ mistakes }) => mistakes.join(' or ')).join(', ');
  const codes = named.flatMap(({ mistakes }) => mistakes);
  if (named.some(({ how, mistakes }) => how === 'one' && mistakes.includes(mistake)))
    return { mistake, where, how: 'named', said };
  if (codes.includes(mistake)) return { mistake, where, how: 'among', said };
  return { mistake, where, how: codes.length === 0 ? 'unexplained' : 'wrong', said };
}

/** Shares of those that were told of at all. */
export function sharesOf(told: readonly Told[]) {
  const share = (...ways: readonly Told['how'][]) =>
    told.filter(({ how }) => ways.includes(how)).length / told.length;
  const alone = told.filter(({ how }) => how !== 'among').length;
  return {
    count: told.length,
    /** Named, or one of two that would have written the same. */
    orAmong: share('named', 'among'),
    /** Named, of those that nothing else would have written. */
    named: (share('named') * told.length) / alone,
  };
}
