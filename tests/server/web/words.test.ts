import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { brief, gradeAttempt, type NamedMistake, type Stop } from '../../../server/engine/index.ts';
import { fromRoot } from '../../../server/root.ts';
import {
  type About,
  CONDITION_WORDS,
  FOLLOW_UP_WORDS,
  isRemarkCode,
  limitWords,
  mistakeWords,
  perceptionWords,
  placed,
  type RemarkCode,
  remarkWords,
  stopWords,
  TAPPET_WORDS,
  VERDICT_WORDS,
  ZERO_PLACE_WORDS,
} from '../../../server/web/words/index.ts';
import { type Habits, observe, writeWhatIsSeen } from '../../support/observer.ts';

const FOLDER = fromRoot('server', 'engine', 'exercises', 'cam-lift');

/** Codes that the grade can hold: every literal of several words in the files that make remarks and stops. */
function codesInTheEngine(): string[] {
  const files = readdirSync(FOLDER).filter((name) => name === 'grade.ts' || name.startsWith('check-'));
  const texts = files.map((name) => readFileSync(`${FOLDER}/${name}`, 'utf8'));
  return [
    ...new Set(
      texts.flatMap((text) => [...text.matchAll(/'([a-z]+(?:-[a-z]+)+)'/g)].map(([, code]) => code ?? '')),
    ),
  ];
}

const STOPS: readonly Stop['code'][] = ['whole-turn-error', 'bad-lobe-passed', 'reading-without-measurement'];

/** Codes that are values of remarks, or mistakes, or perceptions looked for; each has its words elsewhere. */
const OTHER = new Set<string>([
  ...STOPS,
  ...Object.keys(VERDICT_WORDS),
  ...Object.keys(FOLLOW_UP_WORDS),
  ...Object.keys(ZERO_PLACE_WORDS),
  'choose-gauge',
  'too-short',
  'too-fine',
  'not-the-high-point',
  'rolled-back',
  'ran-on',
]);

const bench = observe({ kind: 'cam-lift', dial: 'inch-0.001-1' }, 'words').bench;
const plate = brief(bench);
const about: About = {
  dial: plate.dial,
  specification: { unit: 'in', nominal: 0.25, lower: 0.246, upper: 0.254 },
  lobe: {
    position: 4,
    condition: 'sound',
    tappet: 'free',
    trueLift: 0.2141,
    trueVerdict: 'inside',
    shown: [0.214, 0.2138],
    writtenLift: 0.114,
    writtenVerdict: 'inside',
    writtenNext: null,
  },
  written: {
    position: 4,
    readings: [
      { counterBefore: 1.4, counterHigh: 3.5, turns: 1, pointer: 14, lift: 0.114, returned: 0 },
      { counterBefore: null, counterHigh: null, turns: 1, pointer: 14, lift: null, returned: null },
    ],
    lift: 0.114,
    verdict: 'inside',
    next: null,
  },
};

/** Figures stand before a blank that keeps the unit on their line. */
const plain = (text: string) => text.replaceAll('\u00a0', ' ');

describe('the words of remarks', () => {
  it('are there for every code that the grade can hold', () => {
    const codes = codesInTheEngine();
    expect(codes.length).toBeGreaterThan(30);
    expect(codes.filter((code) => !isRemarkCode(code) && !OTHER.has(code))).toEqual([]);
  });

  it('are put to the tests below, every one', () => {
    expect(codesInTheCatalogue().sort()).toEqual(codesInTheEngine().filter(isRemarkCode).sort());
  });

  it('are whole sentences about any attempt, however clumsy', () => {
    const clumsy: Habits[] = [
      { preloadTurns: 0 },
      { preloadTurns: 0.1, stopsShortBy: 6 },
      { preloadTurns: 8, verdict: () => 'above' },
      { verdict: () => 'inside' },
      { write: (seen) => ({ ...writeWhatIsSeen(seen), lift: null, turns: null, returned: null }) },
      { write: (seen) => ({ ...writeWhatIsSeen(seen), lift: 0.1234, returned: 0.02 }) },
      {
        write: (seen, _position, reading) => ({
          ...writeWhatIsSeen(seen),
          lift: reading === 1 ? 2.14 : null,
          pointer: null,
        }),
      },
    ];
    let count = 0;
    for (const [index, habits] of clumsy.entries()) {
      const {
        bench: own,
        actions,
        sheet,
      } = observe(
        { kind: 'cam-lift', dial: index % 2 === 0 ? 'inch-0.001-1' : 'metric-0.01-10' },
        `clumsy-${index}`,
        habits,
      );
      const grade = gradeAttempt(own, actions, sheet);
      const aboutLobe = (position: number | null): About => ({
        dial: own.dial,
        specification: own.specification,
        lobe: grade.lobes.find((lobe) => lobe.position === position) ?? null,
        written: sheet.lobes.find((lobe) => lobe.position === position) ?? null,
      });
      const said = [
        ...grade.remarks.map((remark) => remarkWords(remark, aboutLobe(remark.position))),
        ...grade.mistakes.map((mistake) => mistakeWords(mistake, aboutLobe(mistake.position))),
        ...grade.stops.map((stop) => stopWords(stop, aboutLobe(stop.position))),
      ];
      for (const { seen, why } of said)
        expect(`${seen} ${why}`).toMatch(/^(?!.*(undefined|NaN|null|Infinity)).*\.$/);
      count += said.length;
    }
    expect(count).toBeGreaterThan(20);
  });

  it('are kept for no code that is gone', () => {
    const sources = new Set(codesInTheEngine());
    const known = Object.keys(allRemarkWords());
    expect(known.filter((code) => !sources.has(code))).toEqual([]);
  });

  it.each(Object.entries(allRemarkWords()))(
    'say of %s what was seen and why it matters',
    (code, { seen, why }) => {
      for (const sentence of [seen, why]) {
        expect(sentence).toMatch(/^[A-Z“0-9].*[.]$/s);
        expect(sentence).not.toMatch(/undefined|NaN|null|\[object/);
        expect(sentence).not.toMatch(/\bmarks?\b/i);
        expect(sentence).not.toContain(code);
      }
      expect(seen).not.toBe(why);
    },
  );

  it('do not say that the gauge showed what was never measured', () => {
    const never = { ...about, lobe: about.lobe && { ...about.lobe, shown: [null, null] } };
    expect(remarkWords({ code: 'bad-lobe-passed', values: {} }, about).seen).toContain('the gauge showed it');
    expect(remarkWords({ code: 'bad-lobe-passed', values: {} }, never).seen).not.toContain(
      'the gauge showed it',
    );
  });

  it('tell a reading that was not written from a lobe that never came up', () => {
    const never = { ...about, lobe: about.lobe && { ...about.lobe, shown: [null, null] } };
    expect(remarkWords({ code: 'lobe-never-came-up', values: {} }, about).seen).toContain(
      'no reading of it was written',
    );
    expect(remarkWords({ code: 'lobe-never-came-up', values: {} }, never).seen).toContain('never came up');
  });

  it('give the code of an older engine rather than an error', () => {
    expect(remarkWords({ code: 'of-old', values: {} }, about).seen).toContain('of-old');
  });
});

describe('the words of a mistake', () => {
  const named = (parts: Partial<NamedMistake>): NamedMistake => ({
    position: 4,
    reading: 1,
    how: 'one',
    mistakes: ['missed-turn'],
    offGraduations: -100,
    at: 7,
    ...parts,
  });
  const words = (parts: Partial<NamedMistake>) => plain(mistakeWords(named(parts), about).seen);

  it('name one with what was written, what the gauge showed, and the difference', () => {
    expect(placed('Position 4, reading 1', words({}))).toBe(
      'Position 4, reading 1: it looks as if one turn of the pointer was not counted: 0.114 in written, the gauge showed 0.214 in, one whole turn (0.100 in) less.',
    );
  });

  it('add up turns and pointer where the lift of a reading is blank', () => {
    expect(words({ reading: 2 })).toContain('0.114 in written, the gauge showed 0.214 in');
  });

  it('name two as either and or', () => {
    expect(words({ how: 'either', mistakes: ['missed-turn', 'remainder-only'] })).toMatch(
      /^It looks as if either one turn of the pointer was not counted or only the pointer was written, without the whole turns: /,
    );
  });

  it('name two made at once as two', () => {
    expect(words({ mistakes: ['missed-turn', 'neighbouring-numeral'] })).toBe(
      'It looks as if two things happened: one turn of the pointer was not counted, and the pointer was read from the numeral next to its own. 0.114 in written, the gauge showed 0.214 in, one whole turn (0.100 in) less.',
    );
  });

  it.each(mistakeCodes())('say of %s what it looks like and what helps, and accuse nobody', (code) => {
    const { seen, why } = mistakeWords(named({ mistakes: [code] }), about);
    expect(seen).toMatch(code === 'nothing-measured' ? /^Nothing was measured / : /^It looks as if .*\.$/);
    expect(why).toMatch(/^[A-Z].*\.$/);
    expect(`${seen} ${why}`).not.toMatch(/undefined|NaN|\byou (did|forgot|missed|failed)\b|\bmarks?\b/i);
    expect(`${seen} ${why}`).not.toContain(code.includes('-') ? code : 'no such code');
  });

  it('say honestly when no one mistake explains it', () => {
    expect(words({ how: 'unexplained', mistakes: [], offGraduations: -7 })).toMatch(
      /^Off by 7 graduations; no one mistake explains it\./,
    );
  });

  it('never guess at a line filled without a measurement', () => {
    expect(words({ reading: null, mistakes: ['nothing-measured'], offGraduations: null })).toBe(
      'Nothing was measured on lobe 4, though its line is filled in.',
    );
  });
});

describe('the other words', () => {
  it.each(STOPS)('tell the stop %s', (code) => {
    const { seen, why } = stopWords(
      { code, position: 4, at: null, values: { wholeTurns: -1, barred: false, truly: 'below' } },
      about,
    );
    expect(`${seen} ${why}`).not.toMatch(/undefined|NaN|No words/);
  });

  it('are there for every state of lobe and tappet that a bench can draw', () => {
    const source = readFileSync(`${FOLDER}/bench.ts`, 'utf8');
    const union = (name: string) =>
      [...(new RegExp(`type ${name} = ([^;]+);`).exec(source)?.[1] ?? '').matchAll(/'([^']+)'/g)].map(
        ([, code]) => code,
      );
    expect(union('LobeState')).toEqual(expect.arrayContaining(['sound']));
    expect(Object.keys(CONDITION_WORDS).sort()).toEqual(union('LobeState').sort());
    expect(Object.keys(TAPPET_WORDS).sort()).toEqual(union('TappetFault').sort());
  });

  it('tell what is perceived and not what it means', () => {
    expect(perceptionWords({ code: 'dull-stop' })).toBe('The tappet stops with a dull sound.');
    expect(perceptionWords({ code: 'rolled-back', degrees: 12 })).toContain('12°');
    expect(perceptionWords({ code: 'cannot', why: 'bezel-is-clamped' })).toContain('clamp');
  });

  it('say a side that is open', () => {
    expect(plain(limitWords({ lower: 0.246, upper: 0.254, unit: 'in' }))).toBe('0.246 to 0.254 in');
    expect(plain(limitWords({ lower: 6.1, upper: null, unit: 'mm' }))).toBe(
      '6.10 mm or more, no upper limit',
    );
    expect(plain(limitWords({ lower: null, upper: 6.3, unit: 'mm' }))).toBe(
      '6.30 mm or less, no lower limit',
    );
  });
});

/** Every mistake that has a name, from the union that lists them. */
function mistakeCodes(): string[] {
  const source = readFileSync(fromRoot('server', 'engine', 'diagnosis', 'hypotheses.ts'), 'utf8');
  const union = /type Mistake =([^;]+);/.exec(source)?.[1] ?? '';
  return [...union.matchAll(/'([^']+)'/g)].flatMap(([, code = '']) =>
    code === 'none-of-these' ? [] : [code],
  );
}

function allRemarkWords(): Record<string, { seen: string; why: string }> {
  const codes: readonly RemarkCode[] = codesInTheCatalogue();
  return Object.fromEntries(
    codes.map((code) => [code, remarkWords({ code, values: valuesFor(code) }, about)]),
  );
}

function codesInTheCatalogue(): RemarkCode[] {
  const text = readFileSync(fromRoot('server', 'web', 'words', 'remarks.ts'), 'utf8');
  return [...text.matchAll(/^ {2}'([a-z-]+)': \(/gm)].map(([, code]) => code ?? '').filter(isRemarkCode);
}

function valuesFor(code: string) {
  if (code === 'let-go-at-compression') return { degrees: 12, times: 2, way: 'rolled-back' };
  if (code === 'reading-off') return { offGraduations: -100, wholeTurns: -1 };
  if (code === 'zero-off-base-circle') return { where: 'ramp', aboveGraduations: 12.3 };
  if (code.startsWith('next-not-the'))
    return { written: 'replace', right: ['measure-again', 'correct-set-up'] };
  return {
    right: 'below',
    written: 'inside',
    verdict: 'below',
    turns: 0.1,
    lifts: 1,
    barredDeg: 360,
    degrees: 10,
    leanDeg: 11,
    offGraduations: 5.3,
    tipInHole: false,
    part: 'base',
    condition: 'pitted',
    shownGraduations: -2,
  };
}
