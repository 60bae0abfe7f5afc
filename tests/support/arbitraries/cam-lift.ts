import fc from 'fast-check';
import type { CamLiftAction, CamLiftDefinition, DialName } from '../../../server/engine/index.ts';

/** Dials long enough for every lift a seed may draw. */
export const LONG_DIALS = [
  'inch-0.001-1',
  'inch-0.0005-0.5',
  'metric-0.01-10',
] as const satisfies readonly DialName[];

/** The same with other faces and small hands, and longer travel. */
export const OTHER_DIALS = [
  'inch-0.001-1-balanced',
  'inch-0.001-1-backwards',
  'inch-0.001-0.5',
  'metric-0.01-10-balanced',
  'metric-0.01-20',
] as const satisfies readonly DialName[];

export const anySeed = fc.integer({ min: 0, max: 1_000_000 });

export const anyDefinition: fc.Arbitrary<CamLiftDefinition> = fc.record({
  kind: fc.constant('cam-lift' as const),
  dial: fc.constantFrom(...LONG_DIALS, ...OTHER_DIALS),
  cylinders: fc.constantFrom(4 as const, 6 as const),
  positions: fc.integer({ min: 1, max: 4 }),
  fullCycle: fc.boolean(),
  tappetFaults: fc.boolean(),
  setUpFaults: fc.boolean(),
  rollerVerdict: fc.boolean(),
});

const bar = fc.record({
  type: fc.constant('bar' as const),
  degrees: fc.double({ min: -200, max: 200, noNaN: true }),
  speed: fc.constantFrom(6, 20, 60),
});
const barAndLetGo = fc.record({
  type: fc.constant('bar' as const),
  degrees: fc.integer({ min: -90, max: 90 }),
  speed: fc.constantFrom(6, 20, 60),
  hold: fc.constantFrom(0, 1, 3, 10),
});

/** Actions a student may do in any order, sensible or not. */
export const anyAction: fc.Arbitrary<CamLiftAction> = fc.oneof(
  { weight: 6, arbitrary: bar },
  { weight: 2, arbitrary: barAndLetGo },
  fc.record({ type: fc.constant('move' as const), position: fc.integer({ min: 1, max: 6 }) }),
  fc.constantFrom<CamLiftAction>(
    { type: 'inspect' },
    { type: 'seat' },
    { type: 'turn-tappet' },
    { type: 'press' },
    { type: 'align' },
    { type: 'align', square: true },
    { type: 'tighten', part: 'arm' },
    { type: 'tighten', part: 'rod' },
    { type: 'lift-tip' },
    { type: 'zero' },
    { type: 'clamp' },
    { type: 'unclamp' },
  ),
  fc.record({ type: fc.constant('preload' as const), turns: fc.double({ min: 0, max: 3, noNaN: true }) }),
  fc.record({
    type: fc.constant('note' as const),
    position: fc.integer({ min: 1, max: 6 }),
    reading: fc.constantFrom(1 as const, 2 as const),
    box: fc.constantFrom('pointer' as const, 'lift' as const, 'returned' as const),
  }),
);

/** A log that sets up at once, so that most of it happens with the indicator on. */
export const anyLog: fc.Arbitrary<CamLiftAction[]> = fc
  .tuple(
    fc.integer({ min: 1, max: 4 }),
    fc.double({ min: 0, max: 2, noNaN: true }),
    fc.array(anyAction, { maxLength: 25 }),
  )
  .map(([position, turns, rest]) => [
    { type: 'move', position },
    { type: 'seat' },
    { type: 'preload', turns },
    { type: 'zero' },
    ...rest,
  ]);
