import { describe, expect, it } from 'vitest';
import { type DialReadingDefinition, generateBench } from '../../../server/engine/index.ts';
import { gradePaper, keyOf, paperDials, paperLines, seedForPaper } from '../../../server/paper/dials.ts';

function benchFor(level: 1 | 2 | 3, seed: string) {
  const definition: DialReadingDefinition = { kind: 'dial-reading', drills: 8, level };
  return generateBench(definition, seedForPaper(definition, seed));
}

/** Where hands point on a drawing, out of its root: what a student has before them. */
function hands(svg: string) {
  const of = (name: string) => Number(new RegExp(`data-${name}="([^"]*)"`).exec(svg)?.[1]);
  return {
    pointer: of('pointer'),
    counter: of('counter'),
    graduations: of('graduations'),
    counterTurns: of('counter-turns'),
  };
}

describe('dials drawn on paper', () => {
  it('can be read off the drawing alone: turns from the small hand, the rest from the pointer, whichever way it went', () => {
    for (const level of [1, 2, 3] as const)
      for (let n = 0; n < 25; n += 1) {
        const bench = benchFor(level, `paper-${level}-${n}`);
        for (const [index, one] of paperDials(bench, 'x').entries()) {
          const [before, after] = [hands(one.before), hands(one.after)];
          const { dial, way } = one;
          // The small hand moves with the plunger, or against it; the pointer goes up as the plunger goes in.
          const sign = way === 'in' ? 1 : -1;
          const handSign = dial.counter === 'backwards' ? -sign : sign;
          const ring = before.counterTurns;
          const about = (((handSign * (after.counter - before.counter)) % ring) + ring) % ring;
          const run = (((sign * after.pointer) % after.graduations) + after.graduations) % after.graduations;
          const over = run / after.graduations;
          const turns = Math.round(about - over);
          const read = sign * (turns + over) * dial.rangePerTurn;
          const truth = bench.drills[index]?.movement ?? Number.NaN;
          expect(Math.abs(read - truth) / dial.graduation, `${level} ${n} ${index}`).toBeLessThan(0.51);
        }
      }
  });

  it('differ from student to student, and stay the same for one', () => {
    const dials = (seed: string) => JSON.stringify(paperDials(benchFor(2, seed), 'x'));
    expect(dials('a')).toBe(dials('a'));
    expect(new Set(['a', 'b', 'c', 'd'].map(dials)).size).toBe(4);
  });

  it('are graded by the key: as it stands right, a turn less is named, a blank is a blank', () => {
    const bench = benchFor(2, 'graded');
    const key = keyOf(bench);
    const written = bench.drills.map(({ dial, movement }, index) => ({
      ...{ drill: index + 1, turns: key[index]?.turns ?? 0, pointer: key[index]?.pointer ?? 0 },
      ...{ counterBefore: null, counterAfter: null },
      reading: Math.round(movement / dial.graduation) * dial.graduation,
    }));
    const right = gradePaper(bench, written);
    expect(paperLines(bench, right).every((line) => line.right)).toBe(true);
    expect(right.points.reading).toBe(right.outOf.reading);
    const [first] = bench.drills;
    if (first === undefined) throw new Error('no dial');
    const short = Math.sign(first.movement) * first.dial.rangePerTurn;
    const missed = gradePaper(bench, [
      {
        ...(written[0] as (typeof written)[0]),
        turns: (key[0]?.turns ?? 1) - 1,
        reading: (written[0]?.reading ?? 0) - short,
      },
      { ...(written[1] as (typeof written)[1]), turns: null, pointer: null, reading: null as never },
      ...written.slice(2),
    ]);
    const lines = paperLines(bench, missed);
    expect(lines[0]).toMatchObject({ right: false });
    expect(lines[0]?.why).toContain('one turn of the pointer was not counted');
    expect(lines[1]).toMatchObject({ verdict: 'blank', right: false });
    expect(lines.slice(2).every((line) => line.right)).toBe(true);
  });
});
