import { describe, expect, it } from 'vitest';
import type {
  CoordinatorsWord,
  RunEvidence,
  SignOffEvidence,
} from '../../../server/competencies/evidence.ts';
import { type EvidenceRule, USUAL_RULE } from '../../../server/competencies/evidence-rule.ts';
import { meetingsOf, reasonsAgainst } from '../../../server/competencies/meeting.ts';
import { monthsLater, type RuleInForce, standingAsOf } from '../../../server/competencies/standing.ts';

const OUT_OF = { setUp: 30, procedure: 20, reading: 30, verdict: 20 };
/** A run handed in on a day of September, with so many of 100 points. */
function run(day: number, parts: Partial<RunEvidence> & { readonly total?: number } = {}): RunEvidence {
  const { total = 90, ...rest } = parts;
  return {
    ...{ itemId: 1, id: `run-${day}`, at: `2026-09-${String(day).padStart(2, '0')}T09:00:00.000Z` },
    ...{ day: `2026-09-${String(day).padStart(2, '0')}`, engine: `seed-${day}` },
    points: { setUp: 30, procedure: 20, reading: 30, verdict: total - 80 },
    ...{ outOf: OUT_OF, stops: 0, badPart: true, setUpFault: true, ...rest },
  };
}
const signed = (day: number, passed = true): SignOffEvidence => ({
  ...{ itemId: 2, id: `sign-${day}`, at: `2026-09-${String(day).padStart(2, '0')}T15:00:00.000Z`, passed },
});
const PLAIN: EvidenceRule = {
  ...USUAL_RULE,
  runs: { ...USUAL_RULE.runs, count: 1, engines: 0, days: 0, badParts: 0, setUpFaults: 0 },
};
const rule = (version: number, from: string, one: EvidenceRule): RuleInForce => ({
  version,
  from,
  rule: one,
  itemIds: [1, 2],
});
function standing(given: {
  readonly runs?: readonly RunEvidence[];
  readonly signOffs?: readonly SignOffEvidence[];
  readonly words?: readonly CoordinatorsWord[];
  readonly rules?: readonly RuleInForce[];
  readonly asOf?: string;
  readonly terms?: Parameters<typeof standingAsOf>[0]['terms'];
}) {
  return standingAsOf({
    rules: given.rules ?? [rule(1, '2026-09-01T00:00:00.000Z', USUAL_RULE)],
    evidence: { runs: given.runs ?? [], signOffs: given.signOffs ?? [] },
    words: given.words ?? [],
    terms: given.terms ?? [],
    asOf: given.asOf ?? '2026-12-31T00:00:00.000Z',
  });
}

describe('the usual rule', () => {
  it('is met by two good runs in a row on two days, a bad lobe and a set-up fault among them, and a sign-off', () => {
    expect(standing({}).state).toBe('none');
    expect(standing({ runs: [run(2)] })).toMatchObject({
      state: 'begun',
      progress: { missing: expect.arrayContaining(['another day', 'a sign-off on a shop engine']) },
    });
    expect(standing({ runs: [run(2), run(3)] })).toMatchObject({
      state: 'practice',
      since: run(3).at,
      progress: { missing: ['a sign-off on a shop engine'] },
    });
    expect(standing({ runs: [run(2), run(3)], signOffs: [signed(1)] })).toMatchObject({
      ...{ state: 'held', since: run(3).at, until: null, ruleVersion: 1 },
    });
    expect(standing({ runs: [run(2), run(3)], signOffs: [signed(9)] }).since).toBe(signed(9).at);
  });

  it.each([
    ['a run between that does not qualify', [run(2), run(3, { total: 79.9 }), run(4)]],
    ['a stop', [run(2), run(3, { stops: 1 })]],
    ['one day', [run(2), run(2, { id: 'b', at: '2026-09-02T11:00:00.000Z' })]],
    ['one engine', [run(2, { engine: 's' }), run(3, { engine: 's' })]],
    ['no bad lobe', [run(2, { badPart: false }), run(3, { badPart: false })]],
    ['no fault in the set-up', [run(2, { setUpFault: false }), run(3, { setUpFault: false })]],
  ])('is not met with %s', (_, runs) => {
    expect(standing({ runs, signOffs: [signed(20)] }).state).toBe('begun');
  });

  it('goes on counting a row until all of it is there', () => {
    const runs = [run(2, { badPart: false }), run(3, { badPart: false }), run(4)];
    expect(standing({ runs, signOffs: [signed(1)] }).since).toBe(run(4).at);
  });

  it('is not met by a sign-off that was not passed, nor undone by a bad run after the row was full', () => {
    expect(standing({ runs: [run(2), run(3)], signOffs: [signed(4, false)] }).state).toBe('practice');
    expect(
      standing({ runs: [run(2), run(3), run(4, { total: 30 + 50 - 1 })], signOffs: [signed(5)] }).state,
    ).toBe('held');
  });
});

describe('a standing', () => {
  it('never is more than practice where no sign-off is asked for', () => {
    const practice = [rule(1, '', { ...PLAIN, signOffs: 0 })];
    expect(standing({ runs: [run(2)], rules: practice, signOffs: [signed(3)] }).state).toBe('practice');
  });

  it('stays as it was won when a harder rule comes, and comes with an easier one from its first moment', () => {
    const harder = [rule(1, '', PLAIN), rule(2, '2026-09-10T00:00:00.000Z', USUAL_RULE)];
    expect(standing({ runs: [run(2)], signOffs: [signed(3)], rules: harder })).toMatchObject({
      ...{ state: 'held', since: signed(3).at, ruleVersion: 1 },
    });
    expect(standing({ runs: [run(12)], signOffs: [signed(13)], rules: harder }).state).toBe('begun');
    const easier = [rule(1, '', USUAL_RULE), rule(2, '2026-09-10T00:00:00.000Z', PLAIN)];
    expect(standing({ runs: [run(2)], signOffs: [signed(3)], rules: easier })).toMatchObject({
      ...{ state: 'held', since: '2026-09-10T00:00:00.000Z', ruleVersion: 2 },
    });
    expect(
      standing({ runs: [run(2)], signOffs: [signed(3)], rules: easier, asOf: '2026-09-09T00:00:00.000Z' })
        .state,
    ).toBe('begun');
  });

  it('lapses after its months, and is met anew by fresh evidence alone', () => {
    const rules = [rule(1, '', { ...PLAIN, holds: { months: 1 } })];
    const once = { runs: [run(2)], signOffs: [signed(3)], rules };
    expect(standing({ ...once, asOf: '2026-10-03T14:59:59.999Z' })).toMatchObject({
      ...{ state: 'held', until: '2026-10-03T15:00:00.000Z' },
    });
    expect(standing({ ...once, asOf: '2026-10-03T15:00:00.000Z' })).toMatchObject({
      ...{ state: 'lapsed', since: '2026-10-03T15:00:00.000Z' },
    });
    const again = { ...once, runs: [run(2), run(25)], signOffs: [signed(3), signed(26)] };
    expect(standing({ ...again, asOf: '2026-10-20T00:00:00.000Z' })).toMatchObject({
      ...{ state: 'held', since: signed(26).at, until: '2026-10-26T15:00:00.000Z' },
    });
  });

  it('lasts to the end of the term that it was met in', () => {
    const rules = [rule(1, '', { ...PLAIN, holds: 'term' })];
    const terms = [
      { name: 'Autumn', beginsOn: '2026-08-20', endsOn: '2026-12-18' },
      { name: 'Spring', beginsOn: '2027-01-11', endsOn: '2027-05-20' },
    ];
    const once = { runs: [run(2)], signOffs: [signed(3)], rules, terms };
    expect(standing({ ...once, asOf: '2026-12-18T23:59:59.999Z' }).state).toBe('held');
    expect(standing({ ...once, asOf: '2026-12-19T00:00:00.000Z' }).state).toBe('lapsed');
  });

  it('is granted by word, revoked so that only what comes later counts, and speaks for itself again', () => {
    const word = (one: CoordinatorsWord['word'], day: number): CoordinatorsWord => ({
      ...{ word: one, at: `2026-09-${day}T12:00:00.000Z` },
    });
    const rules = [rule(1, '', PLAIN)];
    expect(standing({ words: [word('granted', 12)], rules })).toMatchObject({
      state: 'granted',
      ruleVersion: 1,
    });
    const held = { runs: [run(2)], signOffs: [signed(3)], rules };
    expect(standing({ ...held, words: [word('revoked', 12)] })).toMatchObject({
      ...{ state: 'revoked', since: word('revoked', 12).at },
    });
    expect(standing({ ...held, words: [word('revoked', 12), word('lifted', 13)] }).state).toBe('held');
    const after = { ...held, runs: [run(2), run(20)], signOffs: [signed(3), signed(21)] };
    expect(standing({ ...after, words: [word('revoked', 12)] })).toMatchObject({
      ...{ state: 'held', since: signed(21).at },
    });
    expect(standing({ ...held, words: [word('revoked', 12)], asOf: '2026-09-11T00:00:00.000Z' }).state).toBe(
      'held',
    );
  });
});

describe('the parts it is made of', () => {
  it('say why a run does not count', () => {
    const strict = { ...USUAL_RULE, runs: { ...USUAL_RULE.runs, full: ['verdict' as const] } };
    expect(reasonsAgainst(strict, run(2, { total: 80, stops: 2 }))).toEqual([
      '2 stops',
      'verdict not in full',
    ]);
    expect(reasonsAgainst(USUAL_RULE, run(2, { total: 79.9 }))).toEqual(['79.9 points, 80 are needed']);
    expect(
      reasonsAgainst(
        { ...USUAL_RULE, runs: { ...USUAL_RULE.runs, atLeastPercent: 80.05 } },
        run(2, { total: 80 }),
      ),
    ).toEqual(['80 points, 80.1 are needed']);
  });

  it('count the months of a calendar, and the last day where there is no such day', () => {
    expect(monthsLater('2026-01-31T10:00:00.000Z', 1)).toBe('2026-02-28T10:00:00.000Z');
    expect(monthsLater('2027-12-31T10:00:00.000Z', 2)).toBe('2028-02-29T10:00:00.000Z');
    expect(monthsLater('2026-05-15T10:00:00.000Z', 12)).toBe('2027-05-15T10:00:00.000Z');
  });

  it('begin anew after each meeting', () => {
    const { meetings, progress } = meetingsOf(PLAIN, {
      runs: [run(2), run(5), run(6)],
      signOffs: [signed(3), signed(7)],
    });
    expect(meetings.map(({ at, runs }) => [at, runs.map(({ id }) => id)])).toEqual([
      [signed(3).at, ['run-2']],
      [signed(7).at, ['run-5']],
    ]);
    expect(progress).toMatchObject({ runsMet: false, runs: [] });
  });
});
