import { describe, expect, it } from 'vitest';
import {
  act,
  type BriefOf,
  brief,
  type CamLiftAction,
  generateBench,
  lookAt,
  startBench,
  type ViewOf,
} from '../../server/engine/index.ts';
import { rollerScene } from '../../views/scenes/cam-lift.ts';
import { unclosedTags } from '../support/unclosed-tags.ts';

const SHEET = { kind: 'cam-lift', rollerVerdict: true, positions: [1, 2, 3, 4] } as const;
const NAMES = { id: 'scene', title: 'The work' };

/** What stands there after some actions on a bench, with what was said on the way. */
function workedTo(seed: string, actions: readonly CamLiftAction[]) {
  const bench = generateBench(SHEET, seed);
  let state = startBench(bench);
  let said: readonly string[] = [];
  for (const action of actions) {
    const done = act(bench, state, action);
    state = done.state;
    said = done.seen.said.map(({ code }) => code);
  }
  const view = lookAt(bench, state);
  return { view, said, svg: rollerScene.draw(brief(bench), view, NAMES), plate: brief(bench) };
}

const at = (position: number): CamLiftAction => ({ type: 'move', position });
const LOOK: CamLiftAction = { type: 'inspect' };

const plate: BriefOf<'cam-lift'> = workedTo('roller', []).plate;
const { view: start } = workedTo('roller', [at(1), LOOK]);
const drawn = (roller: ViewOf<'cam-lift'>['roller']) => rollerScene.draw(plate, { ...start, roller }, NAMES);
const SOUND = ['roller-bright', 'roller-smooth', 'roller-round'] as const;
const BLUE = ['roller-blue', 'roller-smooth', 'roller-round'] as const;
const PITS = ['roller-bright', 'roller-pits', 'roller-round'] as const;
const SCORES = ['roller-bright', 'roller-scores', 'roller-round'] as const;
const FLAT = ['roller-bright', 'roller-smooth', 'roller-uneven'] as const;
const ALL = [SOUND, BLUE, PITS, SCORES, FLAT];

describe('the roller to judge', () => {
  it('is not drawn before it was looked at', () => {
    for (const actions of [[], [at(1)], [at(1), { type: 'seat' }, LOOK]] as const) {
      const { svg, view, plate: of } = workedTo('roller', actions);
      expect(view.roller).toBeNull();
      expect(svg).toBe('');
      expect(rollerScene.describe(of, view)).toBe('');
    }
  });

  it('shows what the look at it said, for every kind of roller', () => {
    const met = new Set<string>();
    for (let seed = 0; seed < 20; seed += 1) {
      for (const position of SHEET.positions) {
        const { view, said } = workedTo(`roller-${seed}`, [at(position), LOOK]);
        expect(view.roller).toEqual(said);
        met.add(said.join());
      }
    }
    expect([...met].sort()).toEqual(ALL.map((looks) => looks.join()).sort());
  });

  it('stays while its position is at hand, and comes back with it', () => {
    const { svg } = workedTo('roller', [at(1), LOOK]);
    expect(svg).toContain('position 1');
    expect(workedTo('roller', [at(1), LOOK, { type: 'seat' }]).svg).toBe(svg);
    expect(workedTo('roller', [at(1), LOOK, at(2)]).svg).toBe('');
    expect(workedTo('roller', [at(1), LOOK, at(2), at(1)]).svg).toBe(svg);
  });

  it('is a drawing of its own for each, whole, told apart without colour', () => {
    const svgs = ALL.map((looks) => drawn(looks));
    for (const svg of svgs) {
      expect(unclosedTags(svg)).toEqual([]);
      expect(svg).not.toMatch(/NaN|undefined|null|Infinity|style=/);
      expect(svg).not.toMatch(/<text(?! [^>]*class="scene-word")/);
    }
    const withoutColour = svgs.map((svg) => svg.replace(/<path class="scene-blued"[^>]*>/g, ''));
    expect(new Set(withoutColour).size).toBe(ALL.length);
    expect(drawn(BLUE)).toContain('scene-blued');
    for (const looks of [SOUND, PITS, SCORES, FLAT]) expect(drawn(looks)).not.toContain('scene-blued');
  });

  it('says what is on it in words, and never what it means', () => {
    const said = ALL.map((roller) => rollerScene.describe(plate, { ...start, roller }));
    expect(new Set(said).size).toBe(ALL.length);
    for (const [index, words] of said.entries()) {
      expect(words).not.toMatch(/sound|good|bad|again|replace|worn|fault|fit for/i);
      const written = drawn(ALL[index] ?? null)
        .replace(/<(title|desc)[^>]*>[^<]*/g, '')
        .replace(/<[^>]*>/g, ' ');
      expect(written).not.toMatch(/blue|pit|score|flat|round|smooth|bright/i);
    }
  });

  it('tells nothing of how deep a flat is', () => {
    const flats = new Set<string>();
    for (let seed = 0; seed < 60; seed += 1) {
      const { view, plate: of } = workedTo(`roller-${seed}`, [at(1), LOOK]);
      if (view.roller?.includes('roller-uneven')) flats.add(rollerScene.draw(of, view, NAMES));
    }
    expect(flats.size).toBe(1);
  });
});
