import {
  type ActionOf,
  type DialReadingBrief,
  type GaugeSample,
  graduationsPerTurn,
  type WrittenDrill,
} from '../engine/index.ts';
import type { Finished, Work } from './work.ts';

type DrillWork<Result> = Work<'dial-reading', Result>;
type Drill = DialReadingBrief['drills'][number];

/** Dial by dial: watches the pointer, counts it on from moment to moment, and writes what was counted. */
export function* readDials({ drills }: DialReadingBrief): DrillWork<Finished<'dial-reading'>> {
  const written: WrittenDrill[] = [];
  for (const drill of drills) written.push(yield* readDial(drill));
  return { sheet: { drills: written } };
}

function* readDial({ drill, dial }: Drill): DrillWork<WrittenDrill> {
  const perTurn = graduationsPerTurn(dial);
  const { now } = yield { type: 'go-to', drill } satisfies ActionOf<'dial-reading'>;
  const { samples } = yield { type: 'watch', speed: 0.5 } satisfies ActionOf<'dial-reading'>;
  const count = countOn(now.sample, samples, perTurn);
  const size = Math.round(2 * Math.abs(count)) / 2;
  const turns = Math.floor(size / perTurn);
  for (const box of ['turns', 'pointer', 'reading']) yield { type: 'note', item: drill, box };
  return {
    drill,
    turns,
    pointer: size - turns * perTurn,
    counterBefore: now.sample.counter,
    counterAfter: (samples.at(-1) ?? now.sample).counter,
    reading: Number((Math.sign(count) * size * dial.graduation).toFixed(6)),
  };
}

/** Graduations from where the pointer stood, over whole turns: two moments are never half a turn apart. */
function countOn(from: GaugeSample, samples: readonly GaugeSample[], perTurn: number): number {
  let last = from.pointer;
  let count = 0;
  for (const { pointer } of samples) {
    count += ((pointer - last + 1.5 * perTurn) % perTurn) - perTurn / 2;
    last = pointer;
  }
  return count;
}
