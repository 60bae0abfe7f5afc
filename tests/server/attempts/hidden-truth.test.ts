import { readdirSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fromMm, generateBench, gradeAttempt } from '../../../server/engine/index.ts';
import { fromRoot } from '../../../server/root.ts';
import { bundleAssets } from '../../../server/web/assets.ts';
import { signIn } from '../../support/agent.ts';
import { hiddenOf, workThrough } from '../../support/attempt.ts';
import { type TestApp, testApp } from '../../support/build.ts';

/** The ways a length could be written that tell more than the dial shows: in both units, and as graduations. */
function writings(lengthMm: number, graduationMm: number): string[] {
  const graduations = lengthMm / graduationMm;
  return [
    ...[3, 4, 5, 6].map((places) => lengthMm.toFixed(places)),
    ...[4, 5, 6].map((places) => fromMm(lengthMm, 'in').toFixed(places)),
    ...[2, 3, 4].map((places) => graduations.toFixed(places)),
    String(lengthMm),
    String(graduations),
  ];
}

const standsIn = (text: string, body: string) =>
  new RegExp(`(?<![\\d.])${text.replace('.', '\\.')}(?!\\d)`).test(body);

/** A body without what the hands of the gauge and the mark on the damper show. */
const withoutHands = (body: string) => body.replace(/"(crankDeg|deg|pointer|counter)":-?[\d.]+/g, '');

/** Words that only the hidden bench uses. What a student may hear ("dull-stop") is not among them. */
const HIDDEN_WORDS = [
  'wearMm',
  'buildUp',
  'hungMm',
  'sticksMm',
  'highestMm',
  'lowestMm',
  'noseCrankDeg',
  'backlashDeg',
  'leakSeconds',
  'worn-a-turn',
  'built-up',
  '"sticky"',
  '"sound"',
  '"worn"',
  'slot-off-pin',
  'startFaceTurn',
  'camMm',
  'waveMm',
  'slowMm',
  'hysteresisMm',
  'worksMm',
  'flatMm',
  '"blued"',
  '"pitted"',
  '"scored"',
  '"flat"',
  'leanDeg',
  'tipInHole',
  'loosePart',
  'rodRocksMm',
  'slipWay',
  'rodMm',
  'tappetMm',
];

const GAUGES = [
  { item: 3, student: '003201', dial: 'inch', graduationMm: 0.0254 },
  { item: 5, student: '003202', dial: 'metric', graduationMm: 0.01 },
];

describe.each(
  GAUGES.flatMap((gauge) =>
    [1, 2, 3, 4].map((number) => ({ ...gauge, given: `hidden-truth-seed-${number}` })),
  ),
)(
  'nothing that comes back before the sheet is handed in ($dial, $given)',
  ({ item, student, graduationMm, given }) => {
    let built: TestApp;
    let bodies: readonly string[];
    let result: string;
    let truths: { what: string; lengthMm: number }[];
    let seed: string;
    /** What the student wrote comes back on the sheet, and a good reading may be the truth to the last digit that is written. */
    let typed: ReadonlySet<string>;

    beforeAll(async () => {
      built = await testApp({ seeds: [given] });
      const agent = await signIn(built.app, student);
      const driven = await workThrough(built, agent, item);
      bodies = driven.bodies;
      typed = new Set(Object.values(driven.typed));
      result = (await agent.get(`/attempts/${driven.attemptId}/result`)).body;
      const hidden = hiddenOf(built, driven.attemptId);
      seed = hidden.seed;
      const bench = generateBench(hidden.definition, hidden.seed);
      const grade = gradeAttempt(bench, driven.observed.actions, driven.observed.sheet);
      const scale = bench.dial.unit === 'in' ? 25.4 : 1;
      truths = [
        ...bench.positions.flatMap((position) => {
          const lobe = bench.lobes[position - 1];
          if (lobe === undefined) throw new Error('a position without a lobe');
          return [
            { what: 'lift', lengthMm: lobe.highestMm - lobe.lowestMm },
            { what: 'highest', lengthMm: lobe.highestMm },
            { what: 'wear', lengthMm: lobe.lobe.condition.wearMm },
            { what: 'hangs by', lengthMm: lobe.tappet.hungMm },
          ];
        }),
        ...grade.lobes.flatMap(({ shown }) =>
          shown.map((high) => ({ what: 'high reading', lengthMm: (high ?? 0) * scale })),
        ),
      ].filter(({ lengthMm }) => lengthMm > 0);
    }, 30_000);
    afterAll(() => built.close());

    it('holds of a moment anything but what the eye gets: crank mark, pointer, small hand, plunger and effort', () => {
      const samples = bodies.flatMap((body) =>
        body.startsWith('{"next"')
          ? (JSON.parse(body) as { seen: { samples: object[]; now: { sample: object } }[] }).seen.flatMap(
              ({ samples, now }) => [...samples, now.sample],
            )
          : [],
      );
      expect(samples.length).toBeGreaterThan(500);
      const keys = new Set(samples.flatMap((sample) => Object.keys(sample)));
      expect([...keys].sort()).toEqual(['counter', 'deg', 'effort', 'plungerMm', 'pointer']);
    });

    it('holds a lift, a high reading or a condition, in millimetres, inches or graduations', () => {
      expect(bodies.length).toBeGreaterThan(5);
      for (const { what, lengthMm } of truths) {
        for (const text of writings(lengthMm, graduationMm).filter((one) => !typed.has(one))) {
          // The gauge's own hands sweep over every value of three decimals; elsewhere, and with more decimals, none may stand.
          const fine = (text.split('.')[1] ?? '').length > 3;
          const found = bodies.findIndex((body) => standsIn(text, fine ? body : withoutHands(body)));
          expect(found, `${what} ${text} stands in body ${found}`).toBe(-1);
        }
      }
    });

    it('holds a word of the hidden bench, or its seed', () => {
      for (const word of [...HIDDEN_WORDS, seed]) {
        expect(
          bodies.some((body) => body.includes(word)),
          word,
        ).toBe(false);
      }
    });

    it('is found by the same search once the sheet has been handed in, so the search can find it', () => {
      const lift = truths.find(({ what }) => what === 'lift');
      expect(lift).toBeDefined();
      expect(writings(lift?.lengthMm ?? 0, graduationMm).some((text) => standsIn(text, result))).toBe(true);
    });
  },
);

describe('the scripts of the practice page', () => {
  it('hold neither the engine nor anything that could draw a bench', async () => {
    const entries = readdirSync(fromRoot('views', 'client')).filter((name) => name.endsWith('.entry.ts'));
    expect(entries).toContain('practice.entry.ts');
    const assets = await bundleAssets();
    const script = assets.file((assets.address('practice.js') ?? '').replace('/assets/', ''));
    const text = script?.body.toString() ?? '';
    expect(text.length).toBeGreaterThan(1000);
    for (const word of ['wearMm', 'xoroshiro', 'hungMm', 'generateBench', 'noseCrankDeg'])
      expect(text).not.toContain(word);
  });
});
