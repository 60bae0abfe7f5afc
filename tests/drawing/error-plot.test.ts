import { describe, expect, it } from 'vitest';
import { errorPlotSvg } from '../../views/drawing/error-plot.ts';

const NAMES = { id: 'errors', title: 'Reading error' };
const day = (number: number, bias: number | null, spread: number | null) => ({
  day: `2026-09-${String(number).padStart(2, '0')}`,
  bias,
  spread,
});

describe.each(['narrow', 'wide'] as const)('the %s plot of errors', (size) => {
  const height = size === 'narrow' ? 280 : 300;

  it('puts a dot a day, above zero where too much was written, with a bar of its spread', () => {
    const svg = errorPlotSvg([day(1, 1.5, 0.5), day(2, -1, null)], { ...NAMES, size });
    const dots = [...svg.matchAll(/<circle[^>]* cy="([\d.]+)"/g)].map(([, cy]) => Number(cy));
    const zero = Number(/class="plot-zero" d="M\d+ ([\d.]+)/.exec(svg)?.[1]);
    expect(dots).toHaveLength(2);
    expect(dots[0]).toBeLessThan(zero);
    expect(dots[1]).toBeGreaterThan(zero);
    expect(svg.match(/class="plot-line"/g)).toHaveLength(1);
  });

  it('keeps the newest days that fit, all of them on the paper', () => {
    const days = Array.from({ length: 28 }, (_, index) => day(index + 1, index % 2 === 0 ? 4 : -4, 1));
    const svg = errorPlotSvg(days, { ...NAMES, size });
    expect(svg).toContain('>09-28</text>');
    expect(svg).not.toContain('>09-01</text>');
    for (const [, cy] of svg.matchAll(/<circle[^>]* cy="([\d.]+)"/g)) {
      expect(Number(cy)).toBeGreaterThan(0);
      expect(Number(cy)).toBeLessThan(height);
    }
  });

  it('says the last day in words', () => {
    const svg = errorPlotSvg([day(1, 0.5, 0.25), day(2, null, null)], { ...NAMES, size });
    expect(svg).toContain('One day. On 2026-09-01 the mean was 0.5 graduations, spread 0.3.');
  });
});
