import { describe, expect, it } from 'vitest';
import { generateBench } from '../../server/engine/index.ts';

const seeds = Array.from({ length: 200 }, (_, seed) => seed);

describe('the levels of a job with a gauge on a stand', () => {
  it('hide nothing at the first', () => {
    for (const seed of seeds.slice(0, 40)) {
      const { liners, gritty, dial } = generateBench({ kind: 'liner-protrusion', level: 1 }, seed);
      expect(liners.every(({ truly }) => truly === 'inside')).toBe(true);
      expect({ gritty, face: dial.face, counter: dial.counter }).toEqual({
        gritty: false,
        face: 'continuous',
        counter: 'forwards',
      });
      expect(generateBench({ kind: 'backlash', level: 1 }, seed).truly).toBe('inside');
    }
  });

  it('draw every fault of a part at the second, with the limits and the gauge they come with', () => {
    const liners = seeds.flatMap((seed) =>
      generateBench({ kind: 'liner-protrusion' }, seed).liners.map(({ truly }) => truly),
    );
    expect(new Set(liners)).toEqual(new Set(['inside', 'below', 'above', 'uneven']));
    const gears = seeds.map((seed) => generateBench({ kind: 'backlash' }, seed).truly);
    expect(new Set(gears)).toEqual(new Set(['inside', 'below', 'above', 'uneven']));
  });

  it('bring grit, balanced faces and small hands that run backwards at the third', () => {
    const drawn = seeds.map((seed) => generateBench({ kind: 'end-play', level: 3 }, seed));
    const share = (is: (bench: (typeof drawn)[number]) => boolean) => drawn.filter(is).length / drawn.length;
    for (const found of [
      share(({ gritty }) => gritty),
      share(({ dial }) => dial.face === 'balanced'),
      share(({ dial }) => dial.counter === 'backwards'),
    ]) {
      expect(found).toBeGreaterThan(0.35);
      expect(found).toBeLessThan(0.65);
    }
    const asked = generateBench({ kind: 'end-play', level: 3, face: 'continuous' }, 1);
    expect(asked.dial.face).toBe('continuous');
  });
});
