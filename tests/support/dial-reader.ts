import {
  act,
  brief,
  type DialReadingAction,
  type DialReadingBench,
  type DialReadingDefinition,
  type DialReadingSheet,
  generateBench,
  graduationsPerTurn,
  lookAt,
  startBench,
  type WrittenDrill,
} from '../../server/engine/index.ts';

export interface DialReadingAttempt {
  readonly bench: DialReadingBench;
  readonly actions: readonly DialReadingAction[];
  readonly sheet: DialReadingSheet;
}

/** A careful student at the dials: watches each pointer, counts it on from sample to sample, and writes what was counted. */
export function observeDialReading(
  definition: DialReadingDefinition,
  seed: string | number,
): DialReadingAttempt {
  const bench = generateBench(definition, seed);
  const actions: DialReadingAction[] = [];
  let state = startBench(bench);
  const does = (action: DialReadingAction) => {
    const step = act(bench, state, action);
    state = step.state;
    actions.push(action);
    return step.seen;
  };
  const drills = brief(bench).drills.map(({ drill, dial }): WrittenDrill => {
    const perTurn = graduationsPerTurn(dial);
    does({ type: 'go-to', drill });
    let last = lookAt(bench, state).sample;
    const counterBefore = last.counter;
    let count = 0;
    for (const sample of does({ type: 'watch', speed: 0.5 }).samples) {
      count += ((sample.pointer - last.pointer + 1.5 * perTurn) % perTurn) - perTurn / 2;
      last = sample;
    }
    const size = Math.round(2 * Math.abs(count)) / 2;
    const turns = Math.floor(size / perTurn);
    for (const box of ['turns', 'pointer', 'reading']) does({ type: 'note', item: drill, box });
    return {
      drill,
      turns,
      pointer: size - turns * perTurn,
      counterBefore,
      counterAfter: last.counter,
      reading: Number((Math.sign(count) * size * dial.graduation).toFixed(6)),
    };
  });
  return { bench, actions, sheet: { drills } };
}
