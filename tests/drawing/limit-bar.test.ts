import { describe, expect, it } from 'vitest';
import { type LimitBar, limitBarSvg } from '../../views/drawing/limit-bar.ts';

const LIMITS = { lower: 0.231, upper: 0.243, unit: 'in' } as const;

function bar(more: Pick<LimitBar, 'value' | 'word'> & Partial<LimitBar>): string {
  return limitBarSvg({ ...LIMITS, ...more }, { id: 'bar', title: 'Lift against its limits' });
}

function ticks(svg: string): number[] {
  return [...svg.matchAll(/class="bar-tick" d="M([\d.]+)/g)].map((found) => Number(found[1]));
}

function scribe(svg: string): number {
  return Number(/class="bar-scribe" d="M([\d.]+)/.exec(svg)?.[1]);
}

describe('the limit bar', () => {
  it('puts a dot between the ticks', () => {
    const svg = bar({ value: 0.237, word: 'inside' });
    const [low = 0, high = 0] = ticks(svg);
    expect(scribe(svg)).toBeCloseTo((low + high) / 2, 1);
    expect(svg).toContain('bar-dot');
    expect(svg).not.toContain('bar-triangle');
  });

  it('points the way the reading fell', () => {
    const below = bar({ value: 0.2245, word: 'below' });
    const above = bar({ value: 0.247, word: 'above' });
    expect(scribe(below)).toBeLessThan(ticks(below)[0] ?? 0);
    expect(scribe(above)).toBeGreaterThan(ticks(above)[1] ?? 999);
    const apex = (svg: string) => Number(/class="bar-triangle" d="M\S+ \S+V\S+L([\d.]+)/.exec(svg)?.[1]);
    expect(apex(below)).toBeLessThan(scribe(below));
    expect(apex(above)).toBeGreaterThan(scribe(above));
  });

  it('lays a bar as long as the uncertainty across the tick', () => {
    const svg = bar({ value: 0.2317, word: 'too close to call', uncertainty: 0.0013 });
    const [, from = 0, to = 0] = /class="bar-across" d="M([\d.]+) \S+H([\d.]+)V/.exec(svg)?.map(Number) ?? [];
    const [low = 0, high = 0] = ticks(svg);
    expect(from).toBeLessThan(low);
    expect(to).toBeGreaterThan(low);
    expect((to - from) / (high - low)).toBeCloseTo(0.0026 / 0.012, 2);
  });

  it('breaks the line where the reading is a whole turn off', () => {
    const svg = bar({ value: 0.137, word: 'below' });
    const [low = 0, high = 0] = ticks(svg);
    expect(high - low).toBeGreaterThan(60);
    expect(scribe(svg)).toBeLessThan(low - 30);
  });

  it('says which side is open', () => {
    const svg = bar({ upper: null, value: 0.3, word: 'inside' });
    expect(ticks(svg)).toHaveLength(1);
    expect(svg).toContain('no upper limit');
    expect(bar({ lower: null, value: 0.2, word: 'inside' })).toContain('no lower limit');
  });

  it('stands on its limit when the reading does', () => {
    const svg = bar({ upper: null, value: 0.231, word: 'inside' });
    expect(scribe(svg)).toBeCloseTo(ticks(svg)[0] ?? 0, 1);
  });

  it('says in words what it shows', () => {
    expect(bar({ value: 0.2245, word: 'below' })).toContain(
      '0.225 in: below. lower limit 0.231, upper limit 0.243.',
    );
  });
});
