import { describe, expect, it } from 'vitest';
import { chooseDrill, learnerFrom } from '../../../server/drills/choose.ts';
import { evidenceWords, skillLines } from '../../../server/drills/evidence.ts';
import { inTenTurns, readBoxes } from '../../../server/drills/sheet.ts';
import {
  DIALS,
  DRILLED_SKILLS,
  generateBench,
  type Observation,
  startLearner,
} from '../../../server/engine/index.ts';

const DIAL = DIALS['inch-0.001-1'];
const read = (shown: number, off = 0) => ({ dial: DIAL, shown, written: shown + off });
const nobody = startLearner();

describe('the evidence in a sentence', () => {
  it('says that there is none', () => expect(evidenceWords([], nobody)).toBe('No dial is answered yet.'));

  it('counts what there is before there are ten', () => {
    expect(evidenceWords([read(120), read(130, 100), read(140)], nobody)).toBe(
      'Two of the first three within one graduation.',
    );
    expect(evidenceWords([read(120, 1)], nobody)).toBe('The one dial so far was read within one graduation.');
  });

  it('looks at the last ten, and names the kind of dial that goes wrong', () => {
    const easy = Array.from({ length: 8 }, (_, index) => read(120 + index));
    const hard = [read(350, -100), read(430, -100), read(320), read(450, 0)];
    expect(evidenceWords([...easy, ...hard], nobody)).toBe(
      'Eight of the last ten within one graduation. Turns past three are still weak: two of four.',
    );
  });

  it('finds nothing weak where all is right', () => {
    expect(
      evidenceWords(
        Array.from({ length: 12 }, () => read(150)),
        nobody,
      ),
    ).toBe('All of the last ten within one graduation. No one kind of dial stands out as weak.');
  });
});

const rounds = (times: number, right: boolean) =>
  Array.from({ length: times }, () => ({
    observations: DRILLED_SKILLS.map((skill): Observation => ({ skill, right })),
  }));

describe('what is believed', () => {
  it('is in words, with the dials behind it', () => {
    const states = (answers: ReturnType<typeof rounds>) =>
      skillLines(learnerFrom(answers)).map(({ state, dials }) => [state, dials]);
    expect(states([])).toEqual(DRILLED_SKILLS.map(() => ['not enough seen yet', 0]));
    expect(states(rounds(8, true))).toEqual(DRILLED_SKILLS.map(() => ['known', 8]));
    expect(states(rounds(4, false))).toEqual(DRILLED_SKILLS.map(() => ['not known yet', 4]));
  });

  it('chooses only what a dial can show, and a level three dial once everything is known', () => {
    for (const times of [0, 1, 2, 3, 5]) {
      const { skill, definition } = chooseDrill(learnerFrom(rounds(times, true)), 1);
      if (skill !== null) expect(DRILLED_SKILLS).toContain(skill);
      expect(generateBench(definition, 's').drills).toHaveLength(1);
    }
    expect(chooseDrill(learnerFrom(rounds(12, true)), 1)).toMatchObject({
      skill: null,
      definition: { level: 3 },
    });
  });

  it('goes to the skill that went wrong while the others are known', () => {
    const learner = learnerFrom([
      ...rounds(8, true),
      ...Array.from({ length: 6 }, () => ({
        observations: [{ skill: 'counting-turns' as const, right: false }],
      })),
    ]);
    expect(chooseDrill(learner, 1).skill).toBe('counting-turns');
  });
});

describe('the boxes', () => {
  const blank = { turns: '', pointer: '', counterBefore: '', counterAfter: '', reading: '' };

  it('are asked for, the small hand only where it is what is practised', () => {
    expect(Object.keys(readBoxes(DIAL, blank, false).problems).sort()).toEqual([
      'pointer',
      'reading',
      'turns',
    ]);
    expect(Object.keys(readBoxes(DIAL, blank, true).problems)).toHaveLength(5);
  });

  it('are read as people write them', () => {
    const typed = { ...blank, turns: '-2', pointer: '37,5', reading: '−237.5 thou' };
    const { written, problems } = readBoxes(DIAL, typed, false);
    expect(problems).toEqual({});
    expect(written).toMatchObject({ turns: 2, pointer: 37.5, reading: -0.2375, counterBefore: null });
    expect(readBoxes(DIAL, { ...typed, reading: '237' }, false).problems.reading).toBe(
      'Do you mean 0.237 in? Write it so.',
    );
  });

  it('take a small hand of five turns for what it was', () => {
    const dial = {
      ...DIALS['metric-0.01-5'],
      counter: 'backwards' as const,
      plungerAtZero: 2,
      counterAtZero: 8.25,
    };
    const written = { drill: 1, turns: 1, pointer: 50, counterBefore: 3.2, counterAfter: 1.7, reading: 1.5 };
    expect(inTenTurns(dial, 1.5, written)).toMatchObject({ counterBefore: 8.2, counterAfter: 6.7 });
    expect(inTenTurns({ ...dial, travel: 10 }, 1.5, written)).toBe(written);
  });
});
