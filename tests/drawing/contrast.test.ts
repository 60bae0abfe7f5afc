import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

/** Contrast ratio and the least it may be: WCAG 2.2, 1.4.3 (text 4.5) and 1.4.11 (outlines 3). */
const TOKENS = readFileSync(new URL('../../views/style/tokens.css', import.meta.url), 'utf8');

function tokensOf(css: string): ReadonlyMap<string, string> {
  return new Map(
    [...css.matchAll(/--([a-z-]+): (#[0-9a-f]{6});/g)].map((found) => [found[1] ?? '', found[2] ?? '']),
  );
}

function luminance(hex: string): number {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5]
    .map((start) => Number.parseInt(hex.slice(start, start + 2), 16) / 255)
    .map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4));
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
}

function ratio(one: string, other: string): number {
  const [a, b] = [luminance(one), luminance(other)];
  return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
}

const [light = '', dark = ''] = TOKENS.split('@media (prefers-color-scheme: dark)');
const SCHEMES = { light: tokensOf(light), dark: tokensOf(dark) };

describe.each(Object.entries(SCHEMES))('the %s colours', (_name, tokens) => {
  const get = (name: string): string => tokens.get(name) ?? expect.fail(`no ${name} in tokens.css`);

  it.each(['ink', 'quiet', 'blue', 'brass', 'oxide'])('%s is read on paper and on card', (name) => {
    expect(ratio(get(name), get('paper'))).toBeGreaterThanOrEqual(4.5);
    expect(ratio(get(name), get('card'))).toBeGreaterThanOrEqual(4.5);
  });

  it('outlines of boxes can be made out', () => {
    expect(ratio(get('edge'), get('paper'))).toBeGreaterThanOrEqual(3);
    expect(ratio(get('edge'), get('card'))).toBeGreaterThanOrEqual(3);
  });

  it('words are read on layout blue', () => {
    expect(ratio(get('on-blue'), get('blue'))).toBeGreaterThanOrEqual(4.5);
  });
});

it('white on black is 21 to 1', () => {
  expect(ratio('#ffffff', '#000000')).toBeCloseTo(21, 6);
});
