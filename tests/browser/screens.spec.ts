// What runs inside the page is written here too.
/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import { expect, type Page, test } from '@playwright/test';
import { newCode } from '../../server/web/short-code.ts';
import { signInOnPage } from '../support/browser-sign-in.ts';
import { expectSound } from '../support/expect-sound.ts';
import { givenAttempt } from '../support/given-attempt.ts';
import { writeWhatIsSeen } from '../support/observer.ts';
import { startServer, type TestServer } from '../support/server.ts';

/** Attempts of 003201 in section A: one open with something on the log, one handed in with a turn missed on each lobe. */
const OPEN = 'bbbbbbbb-0000-4000-8000-000000000001';
const GRADED = 'bbbbbbbb-0000-4000-8000-000000000002';
/** The same on a sheet that also asks for the roller and hands out the gauge's certificate. */
const OPEN_ROLLER = 'bbbbbbbb-0000-4000-8000-000000000003';
const GRADED_ROLLER = 'bbbbbbbb-0000-4000-8000-000000000004';
const ROLLER_ITEM = 91;
/** A round of drills at its first dial. */
const ROUND = 'bbbbbbbb-0000-4000-8000-000000000005';

/** A roster not yet confirmed, and a sign-off that was begun. */
const PREVIEW = 'bbbbbbbb-0000-4000-8000-000000000006';
const SIGN_OFF = 'bbbbbbbb-0000-4000-8000-000000000007';
/** A printed sheet of drawn dials. */
const PAPER = newCode(() => 7);
/** A sheet of marchbanks's with a practice engine on it. */
const OWN_SHEET = 92;

let server: TestServer;
test.beforeAll(async () => {
  server = await startServer();
  const own = { signInName: '003201', sectionId: 1 };
  await givenAttempt(server.built.store, { ...own, id: OPEN, itemId: 2, seed: 'screens-open', open: true });
  await givenAttempt(server.built.store, {
    ...own,
    id: GRADED,
    itemId: 3,
    seed: 'screens-graded',
    habits: {
      write: (seen) => {
        const written = writeWhatIsSeen(seen);
        return { ...written, turns: seen.turns - 1, lift: (written.lift ?? 0) - seen.rangePerTurn };
      },
    },
  });
  server.built.store.raw
    .prepare(
      `INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, way, definition)
       VALUES (?, 1, 91, 'Practice engine with its roller', 'practice-engine', 'practice', ?)`,
    )
    .run(ROLLER_ITEM, JSON.stringify({ kind: 'cam-lift', rollerVerdict: true, certificate: true }));
  server.built.store.raw.exec(`
    INSERT INTO lab_sheets (id, title, introduction, created_at, made_by)
      SELECT ${OWN_SHEET}, 'Everything on it', 'For all.', '2026-09-10T09:00:00.000Z', id FROM people WHERE sign_in_name = 'marchbanks';
    INSERT INTO lab_sheet_items (lab_sheet_id, ordinal, title, kind, way, definition)
      VALUES (${OWN_SHEET}, 1, 'Cam lift', 'practice-engine', 'practice', '{"kind":"cam-lift","version":1}');
    INSERT INTO shop_engines SELECT 1, id, '2026-09-10T09:00:00.000Z', NULL FROM people WHERE sign_in_name = 'marchbanks';
    INSERT INTO shop_engine_versions SELECT 1, 1, '{"name":"Inline six on the left stand","number":"E1","pumps":6,"firingOrder":[1,5,3,6,2,4],"barring":"clockwise seen from the front","unit":"in","nominal":0.214,"lower":0.21,"upper":null,"source":"Shop manual, page 31","torques":[]}', id, '2026-09-10T09:00:00.000Z' FROM people WHERE sign_in_name = 'marchbanks';
    INSERT INTO shop_references SELECT 1, 1, 4, 'in', 0.213, 0.214, 0.215, NULL, id, '2026-09-10T09:00:00.000Z' FROM people WHERE sign_in_name = 'marchbanks';
    INSERT INTO shop_gauges SELECT 1, 'indicator', 'G1', '0 to 1 in on a magnetic base', 0.001, 'in', 'warn', id, '2026-09-10T09:00:00.000Z', NULL FROM people WHERE sign_in_name = 'marchbanks';
    INSERT INTO roster_previews SELECT '${PREVIEW}', 1, id, '{"classes":[{"sourcedId":null,"title":"the list","rows":[{"line":2,"givenName":"Bartholomew-Alexander","familyName":"Featherstonehaugh-Wolfeschlegel","studentNumber":"004123","email":"b.featherstonehaugh-wolfeschlegel@students.example"},{"line":3,"givenName":"Tam","familyName":"Okereke","studentNumber":"003201","email":null}],"teachers":[]}],"notes":["Not used: the columns cohort."]}', '2026-09-14T07:00:00.000Z' FROM people WHERE sign_in_name = 'marchbanks';
    INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, definition)
      VALUES (93, ${OWN_SHEET}, 2, 'Injection-cam lift on a shop engine', 'shop-engine', '{"kind":"shop-engine","version":1,"steps":[{"text":"Glasses on","hold":false,"alone":true},{"text":"Power off and tagged","hold":true,"alone":true}],"prompts":2,"agreement":{"unit":"in","value":0.002}}');
    INSERT INTO sign_offs SELECT '${SIGN_OFF}', 1, 93, 4, 5, 1, 1, 4, 1, NULL,
      '{"kind":"shop-engine","version":1,"steps":[{"text":"Glasses on","hold":false,"alone":true},{"text":"Power off and tagged","hold":true,"alone":true}],"prompts":2,"agreement":{"unit":"in","value":0.002}}',
      '{"gauge":{"number":"G1","what":"0 to 1 in","dueOn":"2026-09-01","graduation":0.001,"warning":"Its check was due on 2026-09-01."},"wrench":null}', NULL, NULL, id, '2026-09-10T09:00:00.000Z' FROM people WHERE sign_in_name = 'marchbanks';
    INSERT INTO evidence_rules (competency_id, version, rule, in_force_from, items) SELECT 1, 2, rule, '2026-09-10T09:00:00.000Z', '[3,5,93]' FROM evidence_rules;
    INSERT INTO gauge_studies SELECT 1, 1, 'Lift of E1 with G1', 'in', 0.001, 0.008, '["E1 position 1","E1 position 2","E1 position 3"]', '["Maximiliana-Theodora Featherstonehaugh-Wolkenstein","Jo Ng"]', 2, 's', id, '2026-09-10T09:00:00.000Z' FROM people WHERE sign_in_name = 'marchbanks';
    INSERT INTO gauge_study_readings (study_id, part, person, repeat, value, entered_by, at)
      SELECT 1, p.value, o.value, r.value, 0.21 + 0.002 * p.value + 0.0005 * o.value + 0.0003 * r.value * (1 - p.value), 1, '2026-09-10T09:00:00.000Z'
      FROM json_each('[0,1,2]') p, json_each('[0,1]') o, json_each('[0,1]') r;
    INSERT INTO lesson_answers (person_id, lesson_slug, question_id, answer, correct, at) VALUES (4, 'run-out', 'tir', '0.1', 0, '2026-09-10T09:00:00.000Z');
    UPDATE sections SET join_code = '${PAPER}' WHERE id = 1;
    INSERT INTO join_requests VALUES (1, 1, 'Bartholomew-Alexander', 'Featherstonehaugh-Wolfeschlegel', '009901', 'b.featherstonehaugh-wolfeschlegel@students.example', '2026-09-10T09:00:00.000Z'), (2, 1, 'Tam', 'Okereke', '003201', NULL, '2026-09-10T09:00:00.000Z'), (3, 1, 'No', 'Student', 'duenas', NULL, '2026-09-10T09:00:00.000Z');
    INSERT INTO paper_batches SELECT 1, 1, 'dials', 'Reading dials', '{"kind":"dials","definition":{"kind":"dial-reading","drills":4,"level":2}}', id, '2026-09-10T09:00:00.000Z' FROM people WHERE sign_in_name = 'marchbanks';
    INSERT INTO paper_batches SELECT 2, 1, 'measuring', 'Cam lift', '{"kind":"measuring","work":"cam-lift"}', id, '2026-09-10T09:00:00.000Z' FROM people WHERE sign_in_name = 'marchbanks';
    INSERT INTO paper_batches SELECT 3, 1, 'sign-off', 'On a shop engine', '{"kind":"sign-off","itemId":93,"work":{"kind":"shop-engine","version":1,"steps":[{"text":"Glasses on, no rings or watch, sleeves close","hold":true,"alone":true}],"prompts":2,"agreement":{"unit":"in","value":0.002}}}', id, '2026-09-10T09:00:00.000Z' FROM people WHERE sign_in_name = 'marchbanks';
    INSERT INTO paper_sheets VALUES ('${PAPER}', 1, 0, 4, 'paper-seed'), ('1111119', 2, 0, 4, NULL), ('222222J', 3, 0, NULL, NULL);
    INSERT INTO drill_rounds VALUES ('${ROUND}', 4, 10, '2026-09-10T09:00:00.000Z');
    INSERT INTO drill_dials VALUES ('${ROUND}', 1, 'revolution-counter', '{"kind":"dial-reading","drills":1,"level":2}', 's', '1', '2026-09-10T09:00:00.000Z');`);
  const roller = { ...own, itemId: ROLLER_ITEM };
  await givenAttempt(server.built.store, { ...roller, id: GRADED_ROLLER, seed: 'screens-roller-1' });
  await givenAttempt(server.built.store, {
    ...roller,
    id: OPEN_ROLLER,
    seed: 'screens-roller-2',
    tryNumber: 2,
    open: true,
  });
});
test.afterAll(() => server.stop());

const SCREENS: readonly { readonly who: string | null; readonly what: string; readonly path: string }[] = [
  { who: null, what: 'sign-in', path: '/sign-in' },
  { who: '003201', what: "a student's lab sheets", path: '/' },
  { who: '003201', what: 'a practice engine', path: `/attempts/${OPEN}` },
  { who: '003201', what: 'looking the sheet over', path: `/attempts/${OPEN}/hand-in` },
  { who: '003201', what: 'a result', path: `/attempts/${GRADED}/result` },
  { who: '003201', what: 'an engine whose roller is asked for', path: `/attempts/${OPEN_ROLLER}` },
  { who: '003201', what: 'looking that sheet over', path: `/attempts/${OPEN_ROLLER}/hand-in` },
  { who: '003201', what: 'the result with a roller', path: `/attempts/${GRADED_ROLLER}/result` },
  { who: '003201', what: 'work seen done', path: '/items/2/demonstration' },
  { who: '003201', what: 'the lessons', path: '/lessons' },
  { who: '003201', what: 'a lesson', path: '/lessons/measuring-injection-cam-lift' },
  { who: '003201', what: 'a lesson in slides', path: '/lessons/run-out/slides' },
  { who: '003201', what: 'the glossary', path: '/glossary' },
  { who: '003201', what: 'what a search finds', path: '/lessons/search?q=preload' },
  { who: '003201', what: 'a search that finds nothing', path: '/lessons/search?q=zeppelin' },
  { who: '003201', what: 'the drills', path: '/drills' },
  { who: '003201', what: 'a dial to be read', path: `/drills/rounds/${ROUND}` },
  { who: '003201', what: "a student's record", path: '/record' },
  { who: '003201', what: 'changing a password', path: '/password' },
  { who: '003201', what: 'a page that is not there', path: '/nowhere' },
  { who: 'marchbanks', what: 'the sections', path: '/sections' },
  { who: 'marchbanks', what: 'a section', path: '/sections/1' },
  { who: 'marchbanks', what: 'loading a roster', path: '/sections/1/roster' },
  { who: 'marchbanks', what: "a student's attempts", path: '/sections/1/students/4' },
  { who: 'marchbanks', what: 'what needs a person', path: '/sections/1/review' },
  { who: null, what: 'asking to be on a roster', path: '/join?code=KV91MBG' },
  { who: 'marchbanks', what: 'who asks to be on the roster', path: '/sections/1/asking' },
  { who: 'marchbanks', what: 'paper', path: '/sections/1/paper' },
  { who: 'marchbanks', what: 'dials to print', path: '/sections/1/paper/1' },
  { who: 'marchbanks', what: 'the key to printed dials', path: '/sections/1/paper/1/key' },
  { who: 'marchbanks', what: 'a sheet found again', path: `/sections/1/paper/sheets/${PAPER}` },
  { who: 'marchbanks', what: 'a measuring sheet to print', path: '/sections/1/paper/2' },
  { who: 'marchbanks', what: 'a sign-off to print', path: '/sections/1/paper/3' },
  { who: 'marchbanks', what: 'what goes wrong', path: '/sections/1/weak-spots' },
  { who: 'marchbanks', what: 'the attempts behind a figure', path: '/sections/1/weak-spots/behind' },
  {
    who: 'marchbanks',
    what: 'the answers behind a figure',
    path: '/sections/1/weak-spots/behind?question=run-out.tir',
  },
  { who: 'marchbanks', what: 'a graded attempt', path: `/sections/1/attempts/${GRADED}` },
  { who: 'marchbanks', what: 'the lessons of a section', path: '/sections/1/lessons' },
  { who: 'marchbanks', what: 'how far a section has read', path: '/sections/1/reading' },
  { who: 'marchbanks', what: 'own lessons', path: '/own-lessons' },
  { who: 'marchbanks', what: 'writing a version of a lesson', path: '/own-lessons/new?from=run-out' },
  { who: 'marchbanks', what: 'a new section', path: '/sections/new' },
  { who: 'marchbanks', what: 'the settings of a section', path: '/sections/1/settings' },
  { who: 'marchbanks', what: 'the lab sheets there are', path: '/lab-sheets' },
  { who: 'marchbanks', what: 'writing a lab sheet', path: `/lab-sheets/${OWN_SHEET}` },
  { who: 'marchbanks', what: 'a lab sheet as students see it', path: '/lab-sheets/1/preview' },
  { who: 'marchbanks', what: 'assigning a lab sheet', path: '/lab-sheets/1/assign' },
  { who: 'marchbanks', what: 'an assigned lab sheet', path: '/sections/1/sheets/1' },
  { who: 'marchbanks', what: 'the scores', path: '/sections/1/scores' },
  { who: 'marchbanks', what: 'the shop', path: '/shop' },
  { who: 'marchbanks', what: 'a new engine of the shop', path: '/shop/engines/new' },
  { who: 'marchbanks', what: 'an engine of the shop', path: '/shop/engines/1' },
  { who: 'marchbanks', what: 'a gauge of the shop', path: '/shop/gauges/1' },
  { who: 'marchbanks', what: 'a roster before it is taken', path: `/sections/1/roster/${PREVIEW}` },
  { who: 'marchbanks', what: 'shop engines of a section', path: '/sections/1/sign-offs' },
  { who: 'marchbanks', what: 'a sign-off at the bench', path: `/sections/1/sign-offs/${SIGN_OFF}` },
  { who: 'marchbanks', what: 'the floor', path: '/sections/1/floor' },
  { who: 'marchbanks', what: 'the gauge studies', path: '/sections/1/gauge-studies' },
  { who: 'marchbanks', what: 'planning a gauge study', path: '/sections/1/gauge-studies/new' },
  { who: 'marchbanks', what: 'a gauge study', path: '/sections/1/gauge-studies/1' },
  { who: 'marchbanks', what: 'the sheets of a gauge study', path: '/sections/1/gauge-studies/1/sheets' },
  { who: 'marchbanks', what: 'a sheet of a gauge study', path: '/sections/1/gauge-studies/1/sheets/1/1' },
  { who: 'marchbanks', what: 'the rotation list', path: '/sections/1/rotation' },
  { who: 'marchbanks', what: 'the signing PIN', path: '/pin' },
  { who: '003201', what: "a student's own sign-off", path: `/sign-offs/${SIGN_OFF}` },
  { who: 'vossberg', what: 'the competencies', path: '/competencies' },
  { who: 'vossberg', what: 'a competency', path: '/competencies/1' },
  { who: 'vossberg', what: 'a new competency', path: '/competencies/new' },
  { who: 'vossberg', what: 'changing a competency', path: '/competencies/1/edit' },
  { who: 'vossberg', what: 'one person and one competency', path: '/competencies/1/people/4' },
  { who: 'vossberg', what: 'the same on an earlier day', path: '/competencies/1/people/4?asOf=2026-09-12' },
  { who: 'vossberg', what: 'a sign-off as evidence', path: `/competencies/1/sign-offs/${SIGN_OFF}` },
  { who: 'vossberg', what: 'the matrix', path: '/matrix' },
  { who: 'vossberg', what: 'the exports', path: '/exports' },
  { who: 'vossberg', what: 'people found', path: '/people?q=a' },
  { who: 'vossberg', what: 'a person', path: '/people/4' },
  { who: 'vossberg', what: 'a transcript to issue', path: '/people/4/transcript' },
  { who: 'vossberg', what: 'what a visit asks for', path: '/visit' },
  { who: 'vossberg', what: 'the audit log', path: '/audit' },
  { who: 'vossberg', what: 'the program', path: '/program' },
  { who: 'vossberg', what: 'the evidence', path: `/competencies/1/attempts/${GRADED}` },
];
const WIDTHS = [360, 820, 1440];

async function signIn(page: Page, who: string | null): Promise<void> {
  if (who === null) return;
  await signInOnPage(page, server.url, who);
}

for (const who of [null, '003201', 'marchbanks', 'vossberg']) {
  test(`every screen of ${who ?? 'a visitor'} is sound at every width`, async ({ page }) => {
    test.setTimeout(300_000);
    await signIn(page, who);
    const faults: string[] = [];
    page.on('pageerror', (error) => faults.push(error.message));
    page.on(
      'console',
      (message) => message.text().includes('Content Security Policy') && faults.push(message.text()),
    );
    page.on('request', (request) => {
      if (!request.url().startsWith(server.url) && !request.url().startsWith('data:'))
        faults.push(`asked for ${request.url()}`);
    });
    for (const screen of SCREENS.filter((one) => one.who === who)) {
      for (const width of WIDTHS) {
        await page.setViewportSize({ width, height: width === 360 ? 740 : 1000 });
        await page.goto(`${server.url}${screen.path}`);
        const wide = await page.locator('html').evaluate((html) => html.scrollWidth - html.clientWidth);
        expect(wide, `${screen.what} at ${width} px scrolls sideways by ${wide} px`).toBe(0);
        await expect(page.getByRole('heading', { level: 1 })).toHaveCount(1);
        // What is folded away is a state of the screen too.
        await page.evaluate(() => {
          for (const folded of document.querySelectorAll('details')) folded.open = true;
        });
        await expectSound(page, `${screen.what} at ${width} px`);
      }
    }
    expect(faults).toEqual([]);
  });
}
