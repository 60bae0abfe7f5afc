import { describe, expect, it } from 'vitest';
import { beginFigure, FIGURES, figureHtml, type Given, type LiveFigure } from '../../views/figures/index.ts';

/** Each figure with everything a lesson can give it, at least once. */
const GIVEN: readonly (readonly [string, Given])[] = [
  ['lift', {}],
  ['dial', {}],
  ['dial', { dial: 'metric-0.01-10' }],
  ['dial', { dial: 'inch-0.001-1-backwards' }],
  ['dial', { dial: 'inch-0.001-1-no-counter' }],
  ['dial', { dial: 'inch-0.0005-0.5-balanced' }],
  ['dial', { dial: 'metric-0.001-1' }],
  ['lean', {}],
  ['cycle', {}],
  ['cycle', { cylinders: '6' }],
  ['lobe', {}],
  ['lobe', { show: 'speed' }],
  ['limits', { lower: '0.233', upper: '0.241' }],
  ['limits', { lower: '0.233' }],
  ['limits', { upper: '0.05', unit: 'mm' }],
  ['adapter', {}],
  ['adapter', { wanted: '20', wrench: '12', adapter: '2' }],
  ...[
    'run-out',
    'end-play',
    'backlash',
    'liner-protrusion',
    'bore-gauge',
    'valve-lift',
    'lift-curve',
    'indicator-check',
  ].map((kind) => ['work', { kind }] as const),
  ['work', { kind: 'run-out', dial: 'metric-0.01-10' }],
  ['roller', {}],
  ['repeat', {}],
];

it('tries every figure there is', () => {
  expect(new Set(GIVEN.map(([name]) => name))).toEqual(new Set(Object.keys(FIGURES)));
});

/** Does everything a reader can do, each control to several places. */
function* everything(figure: LiveFigure): Generator<string> {
  for (const control of figure.show().controls) {
    if (control.kind === 'press') {
      for (const value of control.pressed === undefined ? ['', ''] : ['true', 'false']) {
        figure.set(control.name, value);
        yield `${control.name} ${value}`;
      }
    } else if (control.kind === 'choose') {
      for (const { value } of [...control.options, ...control.options.slice(0, 1)]) {
        figure.set(control.name, value);
        yield `${control.name} ${value}`;
      }
    } else {
      const { min, max } = control;
      for (const value of [max, (min + max) / 2, min, 'nonsense', max * 99, '']) {
        figure.set(control.name, String(value));
        yield `${control.name} ${value}`;
      }
    }
  }
}

describe.each(GIVEN)('the figure %s %j', (name, given) => {
  const begin = () => beginFigure(name, given, 'figure-3');

  it('stands still for paper and for a page without script, with its controls', () => {
    const html = figureHtml(name, given, begin(), 'figure-3');
    expect(html).toContain('<svg');
    expect(html).not.toMatch(/NaN|undefined|Infinity|\[object/);
    const ids = [...html.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids.every((id) => id?.startsWith('figure-3'))).toBe(true);
    expect(html).toMatch(/data-(control|press)=/);
  });

  it('always shows the same drawings, controls and read-outs, and nothing that is no number', () => {
    const figure = begin();
    const names = () => {
      const { drawings, controls, reads } = figure.show();
      return [drawings, controls, reads].map((all) => all.map((one) => one.name));
    };
    const first = names();
    for (const done of everything(figure)) {
      const shown = figure.show();
      expect(JSON.stringify(shown), done).not.toMatch(/NaN|undefined|null°|Infinity/);
      expect(shown.drawings.map(({ svg }) => svg).join(''), done).not.toMatch(/NaN|undefined/);
      expect(names(), done).toEqual(first);
      for (const control of shown.controls)
        if (control.kind === 'slide') {
          expect(control.value, done).toBeGreaterThanOrEqual(control.min);
          expect(control.value, done).toBeLessThanOrEqual(control.max);
        }
    }
  });

  it('changes something with every control, and nothing with one that is not there', () => {
    const figure = begin();
    const looks = () => JSON.stringify(figure.show());
    const before = looks();
    figure.set('no-such-control', '3');
    expect(looks()).toBe(before);
    for (const control of figure.show().controls) {
      if (control.kind === 'press') continue;
      const fresh = begin();
      fresh.set('zero', '');
      const { min, max } = control.kind === 'slide' ? control : { min: 0, max: 0 };
      const values =
        control.kind === 'slide'
          ? [max, min + Math.round((max - min) / 3), min].map(String)
          : control.options.map(({ value }) => value).reverse();
      const seen = values.map((value) => {
        fresh.set(control.name, value);
        return JSON.stringify(fresh.show());
      });
      expect(new Set(seen).size, control.name).toBeGreaterThan(1);
    }
  });
});

it('refuses what a lesson cannot mean', () => {
  expect(() => beginFigure('nothing', {}, 'f')).toThrow(/is not known; known are lift, dial/);
  expect(() => beginFigure('dial', { dail: 'x' }, 'f')).toThrow('does not take dail; it takes dial');
  expect(() => beginFigure('dial', { dial: 'inch-9' }, 'f')).toThrow(/dial=inch-9 must be one of/);
  expect(() => beginFigure('limits', {}, 'f')).toThrow('needs lower, upper or both');
  expect(() => beginFigure('limits', { lower: '2', upper: '1' }, 'f')).toThrow(
    'lower must be less than upper',
  );
  expect(() => beginFigure('adapter', { wanted: 'much' }, 'f')).toThrow(/must be a number/);
  expect(() => beginFigure('work', { kind: 'cam-lift' }, 'f')).toThrow(/must be one of run-out/);
});
