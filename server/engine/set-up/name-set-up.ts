import { FAULT_PRIORS, type SetUpFault } from './faults.ts';

/** What may be said of a set-up. */
export interface SetUpNaming {
  /**
   * `one`: the faults named are there. `either`: one of the two named is. `indistinguishable`: nothing is named, and those listed cannot be told
   * from a good set-up by what was seen. `none`: all was looked for, and nothing is wrong.
   */
  readonly how: 'one' | 'either' | 'indistinguishable' | 'none';
  readonly faults: readonly SetUpFault[];
  /** Faults that nothing seen speaks against: a look, a press or a round of the cam that would have told was left out. */
  readonly untold: readonly SetUpFault[];
}

const ALONE = 0.8;
const TOGETHER = 0.85;
/** Less than this share of its prior left: what was seen speaks against it. */
const SPOKEN_AGAINST = 0.5;

/** Decides what may be said: each fault at 0.80, two as "either … or …" at 0.85 together. Thresholds as those of a wrong reading: common practice, no source. */
export function nameSetUp(
  likely: readonly { readonly fault: SetUpFault; readonly probability: number }[],
): SetUpNaming {
  const sure = likely.filter(({ probability }) => probability >= ALONE).map(({ fault }) => fault);
  const untold = likely
    .filter(
      ({ fault, probability }) =>
        !sure.includes(fault) && probability >= SPOKEN_AGAINST * FAULT_PRIORS[fault],
    )
    .map(({ fault }) => fault);
  if (sure.length > 0) return { how: 'one', faults: sure, untold };
  const [first, second] = likely;
  if (first !== undefined && second !== undefined && first.probability + second.probability >= TOGETHER)
    return { how: 'either', faults: [first.fault, second.fault], untold };
  return untold.length > 0
    ? { how: 'indistinguishable', faults: untold, untold }
    : { how: 'none', faults: [], untold };
}
