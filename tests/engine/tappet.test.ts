import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { followCam, restMm } from '../../server/engine/tappet/height.ts';
import { LAW } from '../support/arbitraries/settings.ts';
import {
  gradeOf,
  lastSaid,
  logOf,
  plainBench,
  pointerAfter,
  stateAfter,
  stepThrough,
} from './support/bench.ts';

const GRADUATION_MM = 0.0254;
const dullStop = { tappet: { fault: 'dull-stop', hungMm: 0.8 } } as const;
const onlySeatedOnce = { seat: [{ type: 'move', position: 3 }, { type: 'seat' }] } as Parameters<
  typeof logOf
>[1];
const highest = (bench: ReturnType<typeof plainBench>, changes: Parameters<typeof logOf>[1]) =>
  Math.max(
    ...stepThrough(bench, logOf(bench, { ...changes, second: [], secondPress: [] }))
      .steps.slice(-13)
      .flatMap(({ moments }) => moments.map(({ graduations }) => graduations)),
  );

describe('a tappet', () => {
  it('rides on the cam when it is free', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -0.02, max: 7, noNaN: true }),
        fc.double({ min: -0.02, max: 7, noNaN: true }),
        (height, cam) => {
          expect(followCam(height, cam, { hungMm: 0, sticksMm: 0 })).toEqual({
            heightMm: cam,
            clicked: false,
          });
        },
      ),
      LAW,
    );
  });

  it('is never below the cam, whatever holds it', () => {
    const length = fc.double({ min: 0, max: 7, noNaN: true });
    fc.assert(
      fc.property(length, length, length, length, (heightMm, camMm, hungMm, sticksMm) => {
        expect(followCam(heightMm, camMm, { hungMm, sticksMm }).heightMm).toBeGreaterThanOrEqual(camMm);
      }),
      LAW,
    );
  });

  it('goes below the true base circle where run-out takes the cam there', () => {
    expect(restMm(-0.01, 0)).toBe(-0.01);
    expect(restMm(-0.01, 0.5)).toBe(0.5);
  });

  it('sticky, lets go with a click once the gap under it passes its threshold', () => {
    expect(followCam(5, 4, { hungMm: 0, sticksMm: 1 })).toEqual({ heightMm: 5, clicked: false });
    expect(followCam(5, 3.999, { hungMm: 0, sticksMm: 1 })).toEqual({ heightMm: 3.999, clicked: true });
  });
});

describe('a tappet hung on a dull stop', () => {
  const bench = plainBench(dullStop);

  it('is heard when it is seated, and goes home at the second push', () => {
    expect(lastSaid(bench, [{ type: 'move', position: 3 }, { type: 'seat' }])).toEqual(['dull-stop']);
    expect(lastSaid(bench, [{ type: 'move', position: 3 }, { type: 'seat' }, { type: 'seat' }])).toEqual([
      'metal-on-metal',
    ]);
  });

  it('reads low by as much as it hangs', () => {
    const lowBy = highest(plainBench(), {}) - highest(bench, onlySeatedOnce);
    expect(lowBy * GRADUATION_MM).toBeCloseTo(0.8, 1);
  });

  it('knocked home in the run returns −q', () => {
    const at = pointerAfter(
      bench,
      logOf(bench, {
        ...onlySeatedOnce,
        preload: [{ type: 'preload', turns: 1 }],
        second: [],
        secondPress: [],
      }),
    );
    expect(at * GRADUATION_MM).toBeCloseTo(-0.8, 1);
  });

  it('knocked home with less preload than that returns minus the preload', () => {
    const { state, steps } = stepThrough(
      bench,
      logOf(bench, {
        ...onlySeatedOnce,
        preload: [{ type: 'preload', turns: 0.2 }],
        second: [],
        secondPress: [],
      }),
    );
    const last = steps.at(-1)?.moments.at(-1);
    expect(last?.plungerMm).toBe(0);
    const zeroed = stateAfter(
      bench,
      logOf(bench, {
        ...onlySeatedOnce,
        preload: [{ type: 'preload', turns: 0.2 }],
        first: [],
        firstPress: [],
        second: [],
        secondPress: [],
      }),
    );
    const preloadMm =
      (zeroed.indicator?.standMm ?? 0) +
      0.8 * ((zeroed.indicator?.scale ?? 0) + (zeroed.indicator?.passScale ?? 0));
    expect((last?.graduations ?? 0) * GRADUATION_MM).toBeCloseTo(-preloadMm, 2);
    expect(state.tappet.hungMm).toBe(0);
  });
});

describe('a tappet whose slot is off its pin', () => {
  const bench = plainBench({ tappet: { fault: 'slot-off-pin', hungMm: 7 } });
  const move = { type: 'move', position: 3 } as const;

  it('stands far up however often it is pushed or pressed', () => {
    expect(lastSaid(bench, [move, { type: 'seat' }, { type: 'seat' }, { type: 'seat' }])).toEqual(['far-up']);
    expect(stateAfter(bench, [move, { type: 'seat' }, { type: 'press' }]).tappet.heightMm).toBe(7);
  });

  it('comes home when it is turned', () => {
    expect(lastSaid(bench, [move, { type: 'seat' }, { type: 'turn-tappet' }])).toEqual(['slot-finds-pin']);
    expect(lastSaid(bench, [move, { type: 'seat' }, { type: 'turn-tappet' }, { type: 'seat' }])).toEqual([
      'metal-on-metal',
    ]);
  });

  it('shows no lift at all while it hangs there', () => {
    expect(highest(bench, { firstPress: [] })).toBeLessThan(1);
  });
});

describe('a sticky tappet', () => {
  const sticky = (sticksMm: number) => plainBench({ tappet: { fault: 'sticky', sticksMm } });
  const afterFirst = { firstPress: [], second: [], secondPress: [] };

  it('gives a first high reading that is right', () => {
    expect(highest(sticky(9), {})).toBeCloseTo(highest(plainBench(), {}), 6);
  });

  it('stays up, so that the return is high', () => {
    expect(pointerAfter(sticky(9), logOf(sticky(9), afterFirst))).toBeGreaterThan(230);
    const partly = pointerAfter(sticky(2), logOf(sticky(2), afterFirst));
    expect(partly).toBeGreaterThan(5);
    expect(partly).toBeLessThan(2 / GRADUATION_MM + 1);
  });

  it('drops when the rod is pressed, and the zero is back', () => {
    const log = logOf(sticky(9), { second: [], secondPress: [] });
    expect(lastSaid(sticky(9), log)).toEqual(['pointer-drops']);
    expect(Math.abs(pointerAfter(sticky(9), log))).toBeLessThanOrEqual(0.5);
  });

  it('may let go by itself, with a click', () => {
    const bench = sticky(2);
    const said = stepThrough(bench, logOf(bench, afterFirst)).steps.flatMap((step) =>
      step.said.map(({ code }) => code),
    );
    expect(said).toContain('click');
  });

  it('costs nothing when it is pressed down, and the return when it is left up', () => {
    const hidden = { tappet: { fault: 'sticky', sticksMm: 9 } } as const;
    expect(gradeOf({ hidden }).total).toBe(100);
    const left = gradeOf({ hidden, log: { firstPress: [], secondPress: [] } });
    expect(left.remarks.map(({ code }) => code)).toContain('return-misread');
  });

  it('does not drop for somebody who presses a free one', () => {
    expect(lastSaid(plainBench(), logOf(plainBench()))).toEqual(['pointer-holds']);
  });
});
