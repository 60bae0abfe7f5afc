import { describe, expect, it } from 'vitest';
import {
  type ActionOf,
  act,
  type BriefOf,
  brief,
  type DefinitionOf,
  generateBench,
  lookAt,
  startBench,
  type ViewOf,
} from '../../server/engine/index.ts';
import { backlashScene } from '../../views/scenes/backlash.ts';
import { boreScene } from '../../views/scenes/bore-gauge.ts';
import { endPlayScene } from '../../views/scenes/end-play.ts';
import { indicatorScene } from '../../views/scenes/indicator-check.ts';
import { liftCurveScene } from '../../views/scenes/lift-curve.ts';
import { linerScene } from '../../views/scenes/liner-protrusion.ts';
import { runOutScene } from '../../views/scenes/run-out.ts';
import type { Scene, SceneMoment } from '../../views/scenes/types.ts';
import { valveScene } from '../../views/scenes/valve-lift.ts';
import { observeBore } from '../support/bore-observer.ts';
import {
  observeBacklash,
  observeEndPlay,
  observeLiners,
  observeRunOut,
} from '../support/gauged-observers.ts';
import { observeIndicatorCheck } from '../support/indicator-observer.ts';
import { observeLiftCurve } from '../support/lift-curve-observer.ts';
import { unclosedTags } from '../support/unclosed-tags.ts';
import { observeValves } from '../support/valve-observer.ts';

type Drawn =
  | 'run-out'
  | 'end-play'
  | 'backlash'
  | 'liner-protrusion'
  | 'bore-gauge'
  | 'indicator-check'
  | 'valve-lift'
  | 'lift-curve';

interface Stage {
  readonly view: ViewOf<Drawn>;
  readonly moments: readonly SceneMoment[];
}

interface Play {
  readonly name: string;
  readonly scene: Scene<BriefOf<Drawn>, ViewOf<Drawn>>;
  readonly plate: BriefOf<Drawn>;
  readonly stages: readonly Stage[];
}

/** Every state an observer's bench goes through, with the moments on the way to it. */
function play<K extends Drawn>(
  name: string,
  scene: Scene<BriefOf<K>, ViewOf<K>>,
  definition: DefinitionOf<K>,
  actions: readonly ActionOf<K>[],
): Play {
  const bench = generateBench(definition as DefinitionOf<Drawn>, 'scene');
  let state = startBench(bench);
  const stages: Stage[] = [{ view: lookAt(bench, state), moments: [] }];
  for (const action of actions) {
    const done = act(bench, state, action as ActionOf<Drawn>);
    state = done.state;
    const moments = done.seen.samples.map(({ workDeg, plungerMm }) => ({
      deg: workDeg,
      plungerMm,
      effort: null,
    }));
    stages.push({ view: done.seen.now, moments });
  }
  return { name, scene: scene as unknown as Play['scene'], plate: brief(bench), stages };
}

const SHAFT = { kind: 'run-out', subject: 'shaft' } as const;
const HOUSING = { kind: 'run-out', subject: 'housing' } as const;
const CRANK = { kind: 'end-play', subject: 'crankshaft' } as const;
const HUB = { kind: 'end-play', subject: 'wheel-bearing' } as const;
const GEARS = { kind: 'backlash', teeth: 7 } as const;
const LINERS = { kind: 'liner-protrusion', liners: 6 } as const;
const BORE = { kind: 'bore-gauge', level: 3 } as const;
const VALVES = { kind: 'valve-lift', level: 3, tappets: 'hydraulic' } as const;
const METRIC_VALVES = { kind: 'valve-lift', dial: 'metric-0.01-20' } as const;
const LOBE = { kind: 'lift-curve', level: 3 } as const;
const BLOCKS = { kind: 'indicator-check' } as const;

const PLAYS: readonly Play[] = [
  play('a shaft', runOutScene, SHAFT, observeRunOut(SHAFT, 'scene').actions),
  play('a housing', runOutScene, HOUSING, observeRunOut(HOUSING, 'scene').actions),
  play('a crankshaft', endPlayScene, CRANK, observeEndPlay(CRANK, 'scene').actions),
  play('a hub', endPlayScene, HUB, observeEndPlay(HUB, 'scene').actions),
  play('gears', backlashScene, GEARS, observeBacklash(GEARS, 'scene').actions),
  play('liners', linerScene, LINERS, observeLiners(LINERS, 'scene').actions),
  play('a bore', boreScene, BORE, observeBore(BORE, 'scene').actions),
  play('valves', valveScene, VALVES, observeValves(VALVES, 'scene').actions),
  play('valves and a metric gauge', valveScene, METRIC_VALVES, observeValves(METRIC_VALVES, 'scene').actions),
  play('a degree wheel', liftCurveScene, LOBE, observeLiftCurve(LOBE, 'scene').actions),
  play('blocks', indicatorScene, BLOCKS, observeIndicatorCheck(BLOCKS, 'scene').actions),
];
const NAMES = { id: 'scene', title: 'The work' };

const partsOf = (svg: string) => [...svg.matchAll(/data-part="([^"]+)"/g)].map(([, part]) => part);

describe.each(PLAYS)('the scene of $name', ({ scene, plate, stages }) => {
  it('is drawn whole in every state of a played bench', () => {
    expect(stages.length).toBeGreaterThan(8);
    for (const { view } of stages) {
      const svg = scene.draw(plate, view, NAMES);
      expect(unclosedTags(svg)).toEqual([]);
      expect(svg.replace(/<[^<>]*>/g, '')).not.toMatch(/[<>]/);
      expect(svg).not.toMatch(/NaN|undefined|null|Infinity|style=/);
      expect(new Set(partsOf(svg)).size).toBe(partsOf(svg).length);
    }
  });

  it('moves only what is drawn, and something of it', () => {
    let moved = 0;
    for (const [index, { moments }] of stages.entries()) {
      for (const { view } of stages.slice(Math.max(0, index - 1), index + 1)) {
        const drawn = partsOf(scene.draw(plate, view, NAMES));
        for (const moment of moments) {
          const moves = scene.move(plate, view, moment);
          expect(drawn).toEqual(expect.arrayContaining(Object.keys(moves)));
          expect(JSON.stringify(moves)).not.toMatch(/NaN|undefined|null|Infinity/);
          if (Object.keys(moves).length > 0) moved += 1;
        }
      }
    }
    expect(moved).toBeGreaterThan(0);
  });

  it('has come to rest where it is drawn', () => {
    for (const { view } of stages) {
      const { workDeg, plungerMm } = view.sample;
      const svg = scene.draw(plate, view, NAMES);
      const moves = scene.move(plate, view, { deg: workDeg, plungerMm, effort: null });
      for (const [name, { transform }] of Object.entries(moves))
        expect(svg).toContain(`data-part="${name}" transform="${transform}"`);
    }
  });

  it('shows and says nothing of where the pointer stands', () => {
    for (const { view } of stages) {
      const sample = { ...view.sample, pointer: view.sample.pointer + 7.25, counter: 3.3 };
      const other = { ...view, sample, faceTurn: view.faceTurn + 11 };
      expect(scene.draw(plate, other, NAMES)).toBe(scene.draw(plate, view, NAMES));
      const deeper = { ...other, sample: { ...sample, plungerMm: view.sample.plungerMm + 1 } };
      expect(scene.describe(plate, deeper)).toBe(scene.describe(plate, view));
    }
  });

  it('says where the tip is', () => {
    const said = new Set(stages.map(({ view }) => scene.describe(plate, view)));
    expect(said.size).toBeGreaterThan(1);
    for (const { view } of stages)
      expect(scene.describe(plate, view)).toMatch(view.indicator === 'on' ? /tip/ : /off the|not been set/);
  });

  it('has words large enough to read', () => {
    for (const { view } of stages)
      expect(scene.draw(plate, view, NAMES)).not.toMatch(
        /<text(?! [^>]*class="scene-(word|degree|on-blue)")/,
      );
  });
});

it('turns the degree of the work to the tip', () => {
  const { plate, scene, stages } = PLAYS[0] as Play;
  const view = stages.at(-1)?.view;
  if (view === undefined) expect.fail('nothing was played');
  const svg = scene.draw(plate, view, NAMES);
  // The figure stands as far anticlockwise on the end face as the face is turned clockwise.
  const figure = /translate\((\S+) (\S+)\) rotate\(-90\)" y="5">90</.exec(svg);
  const [x, y] = [Number(figure?.[1]), Number(figure?.[2])];
  expect([x, y]).toEqual([-40, 0]);
  expect(scene.move(plate, view, { deg: 90, plungerMm: 0, effort: null }).turn).toEqual({
    transform: 'rotate(90)',
  });
});
