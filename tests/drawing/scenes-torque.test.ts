import { describe, expect, it } from 'vitest';
import { act, brief, generateBench, lookAt, startBench, type ViewOf } from '../../server/engine/index.ts';
import { torqueScene } from '../../views/scenes/torque-adapter.ts';
import { observeTorque } from '../support/torque-observer.ts';
import { unclosedTags } from '../support/unclosed-tags.ts';

const SHEET = { kind: 'torque-adapter', level: 3 } as const;
const NAMES = { id: 'scene', title: 'The work' };
const bench = generateBench(SHEET, 'scene');
const plate = brief(bench);

/** Every state of a job worked by an observer. */
const views: ViewOf<'torque-adapter'>[] = [lookAt(bench, startBench(bench))];
let state = startBench(bench);
for (const action of observeTorque(SHEET, 'scene').actions) {
  state = act(bench, state, action).state;
  views.push(lookAt(bench, state));
}

const first = views[0] as ViewOf<'torque-adapter'>;
const inHand = { ...first, wrench: 1, angleDeg: 0 };
const draw = (view: ViewOf<'torque-adapter'>, of = plate) => torqueScene.draw(of, view, NAMES);
const words = (svg: string) => [...svg.matchAll(/<text[^>]*>([^<]*)</g)].map(([, text]) => text);

describe('the scene of a torque wrench', () => {
  it('is drawn whole in every state of a worked job', () => {
    expect(views.length).toBeGreaterThan(20);
    for (const view of views) {
      const svg = draw(view);
      expect(unclosedTags(svg)).toEqual([]);
      expect(svg).not.toMatch(/NaN|undefined|null|Infinity|style=/);
      expect(svg).not.toMatch(/<text(?! [^>]*class="scene-(word|degree)")/);
      expect(torqueScene.move(plate, view, { deg: null, plungerMm: 0, effort: null })).toEqual({});
    }
  });

  it('is another drawing after every action that changes what is seen', () => {
    for (const [index, view] of views.entries()) {
      const before = views[index - 1];
      if (before === undefined) continue;
      const isSame = JSON.stringify(before) === JSON.stringify(view);
      expect(draw(view) === draw(before)).toBe(isSame);
    }
  });

  it('dimensions L and E as the brief has them', () => {
    const all = words(draw(inHand));
    expect(all).toContain(`L ${plate.gripLength} ${plate.lengthUnit}`);
    expect(all).toContain(`E ${plate.adapterLength} ${plate.lengthUnit}`);
  });

  it('says what the wrench is set to only while it is in the hand', () => {
    const setting = plate.scale.least + plate.scale.step;
    expect(words(draw({ ...inHand, setting })).join()).toContain(`set to ${setting}`);
    expect(words(draw({ ...inHand, setting, wrench: null })).join()).not.toContain('set to');
  });

  it('turns the adapter by its angle', () => {
    for (const angleDeg of [0, 45, 90, 135, 180, -90])
      expect(draw({ ...inHand, angleDeg })).toContain(`rotate(${angleDeg === 0 ? 0 : -angleDeg})`);
    expect(draw({ ...inHand, angleDeg: null })).not.toContain('rotate(0)');
  });

  it('keeps everything inside the sheet at any angle and any end of the scale', () => {
    for (let angleDeg = -360; angleDeg <= 360; angleDeg += 15) {
      for (const setting of [plate.scale.least, plate.scale.most]) {
        const svg = draw({ ...inHand, angleDeg, setting });
        for (const [, at, anchor = '', text = ''] of svg.matchAll(
          /<text class="scene-word" x="([^"]+)" y="[^"]+"([^>]*)>([^<]*)</g,
        )) {
          const x = Number(at);
          const wide = text.length * 6.5;
          const left = anchor.includes('middle') ? x - wide / 2 : anchor.includes('end') ? x - wide : x;
          expect({ text, isInside: left >= -2 && left + wide <= 322 }).toEqual({ text, isInside: true });
        }
      }
    }
  });

  it('has a head for every bolt of the joint in hand, and what was done to it', () => {
    const of = (joint: number, bolt: number) => ({ ...inHand, at: { joint, bolt } });
    for (const [index, { order, name }] of plate.joints.entries()) {
      const svg = draw(of(index + 1, 1));
      expect(words(svg)).toContain(name);
      expect(svg.match(/class="scene-degree"/g)).toHaveLength(order.length);
    }
    const marked = views.find(({ bolts }) => bolts.flat().some((bolt) => bolt.marked));
    expect(marked && words(draw(marked))).toContain('marked');
    expect(words(draw(first))).not.toContain('marked');
  });

  it('draws a joint of forty bolts and a name of any length', () => {
    const order = Array.from({ length: 40 }, (_, index) => index + 1);
    const bolt = { marked: false, ranDown: true, clicked: false };
    const name = `<b>${'long '.repeat(30)}`;
    const many = { ...plate, joints: plate.joints.map((joint) => ({ ...joint, name, order })) };
    const svg = draw({ ...inHand, bolts: [order.map(() => bolt)] }, many);
    expect(svg.match(/class="scene-degree"/g)).toHaveLength(40);
    expect(svg).not.toContain('<b>');
    const [, , , height = '0'] = (/viewBox="([^"]+)"/.exec(svg)?.[1] ?? '').split(' ');
    const lowest = Math.max(...[...svg.matchAll(/ y="([\d.]+)"/g)].map(([, y]) => Number(y)));
    expect(lowest).toBeLessThan(Number(height));
  });
});

it('tells of a bolt only what was done to it and felt', () => {
  expect(Object.keys(first).sort()).toEqual(['angleDeg', 'at', 'bolts', 'grip', 'kind', 'setting', 'wrench']);
  for (const view of views)
    for (const bolt of view.bolts.flat())
      expect(Object.keys(bolt).sort()).toEqual(['clicked', 'marked', 'ranDown']);
});
