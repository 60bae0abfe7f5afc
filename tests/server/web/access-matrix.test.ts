import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { newCode } from '../../../server/web/short-code.ts';
import { visitor } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { givenAttempt } from '../../support/given-attempt.ts';
import { sessionFor } from '../../support/session.ts';

/** Attempts of 003201 in section A: one being worked on, one to be handed in, one handed in and graded. */
const OPEN = 'aaaaaaaa-0000-4000-8000-000000000001';
const TO_HAND_IN = 'aaaaaaaa-0000-4000-8000-000000000002';
const GRADED = 'aaaaaaaa-0000-4000-8000-000000000003';
/** A round of drills of 003201, at its first dial. */
const ROUND = 'aaaaaaaa-0000-4000-8000-000000000004';
/** A roster that was loaded and not confirmed. */
const PREVIEW = 'aaaaaaaa-0000-4000-8000-000000000007';
/** A sign-off of 003201 in section A, with a photo. */
const SIGN_OFF = 'aaaaaaaa-0000-4000-8000-000000000006';
/** A printed sheet of drawn dials of section A. */
const PAPER = newCode(() => 5);
/** A picture in an own lesson of marchbanks that is in no plan. */
const PICTURE = 'aaaaaaaa-0000-4000-8000-000000000005';

/**
 * One line a route: what each caller is answered with. Section A (1) is taught by marchbanks and holds 003201;
 * section B (2) is taught by duenas and holds 003204. A path is written with what belongs to section A, so the columns
 * `student` and `instructor` are about what is theirs, `otherStudent` and `otherInstructor` about what is another's.
 * `303 in` is the way to the sign-in page.
 */
interface Row {
  readonly path: string;
  readonly nobody: Answer;
  readonly student: Answer;
  readonly otherStudent: Answer;
  readonly instructor: Answer;
  readonly otherInstructor: Answer;
  readonly coordinator: Answer;
}
type Answer = number | '303 in';

const row = (
  path: string,
  nobody: Answer,
  student: Answer,
  otherStudent: Answer,
  instructor: Answer,
  otherInstructor: Answer,
  coordinator: Answer,
): Row => ({ path, nobody, student, otherStudent, instructor, otherInstructor, coordinator });

const MATRIX: Readonly<Record<string, Row>> = {
  // columns: nobody, 003201, 003204, marchbanks, duenas, vossberg
  'GET /assets/:file': row('/assets/none.css', 404, 404, 404, 404, 404, 404),
  'GET /favicon.ico': row('/favicon.ico', 204, 204, 204, 204, 204, 204),
  'GET /': row('/', '303 in', 200, 200, 303, 303, 303),
  'GET /sign-in': row('/sign-in', 200, 303, 303, 303, 303, 303),
  'POST /sign-in': row('/sign-in', 422, 422, 422, 422, 422, 422),
  'POST /sign-out': row('/sign-out', '303 in', '303 in', '303 in', '303 in', '303 in', '303 in'),
  'GET /password': row('/password', '303 in', 200, 200, 200, 200, 200),
  'POST /password': row('/password', '303 in', 422, 422, 422, 422, 422),
  'GET /lessons': row('/lessons', '303 in', 200, 200, 200, 200, 200),
  'GET /lessons/:slug': row('/lessons/measuring-injection-cam-lift', '303 in', 200, 200, 200, 200, 200),
  // 400: an answer that names no question.
  'POST /lessons/:slug/answers': row(
    '/lessons/measuring-injection-cam-lift/answers',
    '303 in',
    400,
    400,
    400,
    400,
    400,
  ),
  'GET /glossary': row('/glossary', '303 in', 200, 200, 200, 200, 200),
  'GET /lessons/search': row('/lessons/search?q=lift', '303 in', 200, 200, 200, 200, 200),
  'GET /lessons/:slug/slides': row(
    '/lessons/measuring-injection-cam-lift/slides',
    '303 in',
    200,
    200,
    200,
    200,
    200,
  ),
  'POST /lessons/:slug/read': row(
    '/lessons/measuring-injection-cam-lift/read',
    '303 in',
    303,
    303,
    303,
    303,
    303,
  ),
  'GET /sections/:id/lessons': row('/sections/1/lessons', '303 in', 403, 403, 200, 404, 403),
  'POST /sections/:id/lessons': row('/sections/1/lessons', '303 in', 403, 403, 303, 404, 403),
  'GET /sections/:id/reading': row('/sections/1/reading', '303 in', 403, 403, 200, 404, 403),
  'GET /own-lessons': row('/own-lessons', '303 in', 403, 403, 200, 200, 403),
  'GET /own-lessons/new': row('/own-lessons/new', '303 in', 403, 403, 200, 200, 403),
  'POST /own-lessons': row('/own-lessons', '303 in', 403, 403, 422, 422, 403),
  // Lesson 1 is marchbanks's, in no plan; so is its picture.
  'GET /own-lessons/:id': row('/own-lessons/1', '303 in', 403, 403, 200, 404, 403),
  'POST /own-lessons/:id': row('/own-lessons/1', '303 in', 403, 403, 422, 404, 403),
  'POST /own-lessons/:id/images': row('/own-lessons/1/images', '303 in', 403, 403, 422, 404, 403),
  'GET /lesson-images/:id': row(`/lesson-images/${PICTURE}`, '303 in', 404, 404, 200, 404, 404),
  'GET /sections': row('/sections', '303 in', 403, 403, 200, 200, 403),
  'GET /sections/:id': row('/sections/1', '303 in', 403, 403, 200, 404, 403),
  'GET /sections/:id/roster': row('/sections/1/roster', '303 in', 403, 403, 200, 404, 403),
  'POST /sections/:id/roster': row('/sections/1/roster', '303 in', 403, 403, 422, 404, 403),
  // A roster marchbanks has loaded and not yet confirmed; without its fingerprint nothing is done.
  'GET /sections/:id/roster/:previewId': row(
    `/sections/1/roster/${PREVIEW}`,
    '303 in',
    403,
    403,
    200,
    404,
    403,
  ),
  'POST /sections/:id/roster/:previewId': row(
    `/sections/1/roster/${PREVIEW}`,
    '303 in',
    403,
    403,
    409,
    404,
    403,
  ),
  'POST /sections/:id/first-passwords': row('/sections/1/first-passwords', '303 in', 403, 403, 200, 404, 403),
  // 409: the student has a password of their own, and nobody asked to reset it.
  'POST /sections/:id/students/:studentId/first-password': row(
    '/sections/1/students/4/first-password',
    '303 in',
    403,
    403,
    409,
    404,
    403,
  ),
  'GET /sections/:id/students/:studentId': row('/sections/1/students/4', '303 in', 403, 403, 200, 404, 403),
  'GET /sections/:sectionId/attempts/:attemptId': row(
    `/sections/1/attempts/${GRADED}`,
    '303 in',
    403,
    403,
    200,
    404,
    403,
  ),
  // 422: no reason is given.
  'POST /sections/:sectionId/attempts/:attemptId/changes': row(
    `/sections/1/attempts/${GRADED}/changes`,
    '303 in',
    403,
    403,
    422,
    404,
    403,
  ),
  'GET /sections/:id/disagreements': row('/sections/1/disagreements', '303 in', 403, 403, 301, 404, 403),
  'GET /join': row('/join', 200, 200, 200, 200, 200, 200),
  // 422: nothing is written.
  'POST /join': row('/join', 422, 422, 422, 422, 422, 422),
  'GET /sections/:id/asking': row('/sections/1/asking', '303 in', 403, 403, 200, 404, 403),
  'POST /sections/:id/asking/open': row('/sections/1/asking/open', '303 in', 403, 403, 303, 404, 403),
  'POST /sections/:id/asking/close': row('/sections/1/asking/close', '303 in', 403, 403, 303, 404, 403),
  // One who asks is put on the roster by their own instructor alone, and another is not.
  'POST /sections/:id/asking/:requestId/take': row(
    '/sections/1/asking/1/take',
    '303 in',
    403,
    403,
    303,
    404,
    403,
  ),
  'POST /sections/:id/asking/:requestId/decline': row(
    '/sections/1/asking/2/decline',
    '303 in',
    403,
    403,
    303,
    404,
    403,
  ),
  // 400: no version is chosen.
  'POST /sections/:id/scores/oneroster': row(
    '/sections/1/scores/oneroster',
    '303 in',
    403,
    403,
    400,
    404,
    403,
  ),
  'GET /sections/:id/paper': row('/sections/1/paper', '303 in', 403, 403, 200, 404, 403),
  // 422: nothing is chosen.
  'POST /sections/:id/paper': row('/sections/1/paper', '303 in', 403, 403, 422, 404, 403),
  'GET /sections/:id/paper/:batchId': row('/sections/1/paper/1', '303 in', 403, 403, 200, 404, 403),
  'GET /sections/:id/paper/:batchId/key': row('/sections/1/paper/1/key', '303 in', 403, 403, 200, 404, 403),
  'GET /sections/:id/paper/sheets/:code': row(
    `/sections/1/paper/sheets/${PAPER}`,
    '303 in',
    403,
    403,
    200,
    404,
    403,
  ),
  // 422: nothing is entered.
  'POST /sections/:id/paper/sheets/:code': row(
    `/sections/1/paper/sheets/${PAPER}`,
    '303 in',
    403,
    403,
    422,
    404,
    403,
  ),
  'GET /sections/:id/weak-spots': row('/sections/1/weak-spots', '303 in', 403, 403, 200, 404, 403),
  'GET /sections/:id/weak-spots/behind': row(
    '/sections/1/weak-spots/behind',
    '303 in',
    403,
    403,
    200,
    404,
    403,
  ),
  'GET /sections/:id/review': row('/sections/1/review', '303 in', 403, 403, 200, 404, 403),
  'POST /sections/:sectionId/attempts/:attemptId/looks': row(
    `/sections/1/attempts/${GRADED}/looks`,
    '303 in',
    403,
    403,
    303,
    404,
    403,
  ),
  // 400: neither a comment nor a try is asked for.
  'POST /sections/:sectionId/attempts/:attemptId/comments': row(
    `/sections/1/attempts/${GRADED}/comments`,
    '303 in',
    403,
    403,
    400,
    404,
    403,
  ),
  // 400: no disagreement is named; none is answered.
  'POST /attempts/:id/disagreements': row(
    `/attempts/${GRADED}/disagreements`,
    '303 in',
    400,
    404,
    403,
    403,
    403,
  ),
  'POST /sections/:sectionId/attempts/:attemptId/answers': row(
    `/sections/1/attempts/${GRADED}/answers`,
    '303 in',
    403,
    403,
    400,
    404,
    403,
  ),
  // The item is assigned to both students: each begins one of their own.
  'POST /items/:itemId/attempts': row('/items/2/attempts', '303 in', 303, 303, 403, 403, 403),
  'GET /items/:id/demonstration': row('/items/2/demonstration', '303 in', 200, 200, 403, 403, 403),
  'GET /attempts/:id': row(`/attempts/${OPEN}`, '303 in', 200, 404, 403, 403, 403),
  // 400: no actions are sent; no sheet is sent.
  'POST /attempts/:id/actions': row(`/attempts/${OPEN}/actions`, '303 in', 400, 404, 403, 403, 403),
  'POST /attempts/:id/draft': row(`/attempts/${OPEN}/draft`, '303 in', 400, 404, 403, 403, 403),
  'POST /attempts/:id/look-over': row(`/attempts/${OPEN}/look-over`, '303 in', 303, 404, 403, 403, 403),
  'POST /attempts/:id/check': row(`/attempts/${OPEN}/check`, '303 in', 409, 404, 403, 403, 403),
  'POST /attempts/:id/hint': row(`/attempts/${OPEN}/hint`, '303 in', 409, 404, 403, 403, 403),
  'GET /attempts/:id/hand-in': row(`/attempts/${OPEN}/hand-in`, '303 in', 200, 404, 403, 403, 403),
  'POST /attempts/:id/hand-in': row(`/attempts/${TO_HAND_IN}/hand-in`, '303 in', 303, 404, 403, 403, 403),
  'GET /attempts/:id/result': row(`/attempts/${GRADED}/result`, '303 in', 200, 404, 403, 403, 403),
  'GET /drills': row('/drills', '303 in', 200, 200, 403, 403, 403),
  'POST /drills/rounds': row('/drills/rounds', '303 in', 303, 303, 403, 403, 403),
  'GET /drills/rounds/:id': row(`/drills/rounds/${ROUND}`, '303 in', 200, 404, 403, 403, 403),
  'POST /drills/rounds/:id/dials': row(`/drills/rounds/${ROUND}/dials`, '303 in', 303, 404, 403, 403, 403),
  // 400: no actions are sent. 422: nothing is written.
  'POST /drills/rounds/:id/dials/:number/actions': row(
    `/drills/rounds/${ROUND}/dials/1/actions`,
    '303 in',
    400,
    404,
    403,
    403,
    403,
  ),
  'POST /drills/rounds/:id/dials/:number/answer': row(
    `/drills/rounds/${ROUND}/dials/1/answer`,
    '303 in',
    422,
    404,
    403,
    403,
    403,
  ),
  'GET /record': row('/record', '303 in', 200, 200, 403, 403, 403),
  'GET /competencies': row('/competencies', '303 in', 403, 403, 403, 403, 200),
  'GET /competencies/new': row('/competencies/new', '303 in', 403, 403, 403, 403, 200),
  'POST /competencies': row('/competencies', '303 in', 403, 403, 403, 403, 422),
  'GET /competencies/:id': row('/competencies/1', '303 in', 403, 403, 403, 403, 200),
  'GET /competencies/:id/edit': row('/competencies/1/edit', '303 in', 403, 403, 403, 403, 200),
  'POST /competencies/:id/edit': row('/competencies/1/edit', '303 in', 403, 403, 403, 403, 422),
  'POST /competencies/:id/retire': row('/competencies/1/retire', '303 in', 403, 403, 403, 403, 303),
  'GET /competencies/:id/people/:studentId': row(
    '/competencies/1/people/4',
    '303 in',
    403,
    403,
    403,
    403,
    200,
  ),
  'POST /competencies/:id/people/:studentId': row(
    '/competencies/1/people/4',
    '303 in',
    403,
    403,
    403,
    403,
    422,
  ),
  'GET /competencies/:id/sign-offs/:signOffId': row(
    `/competencies/1/sign-offs/${SIGN_OFF}`,
    '303 in',
    403,
    403,
    403,
    403,
    200,
  ),
  'GET /matrix': row('/matrix', '303 in', 403, 403, 403, 403, 200),
  'GET /competencies/:id/attempts/:attemptId': row(
    `/competencies/1/attempts/${GRADED}`,
    '303 in',
    403,
    403,
    403,
    403,
    200,
  ),
  'GET /exports': row('/exports', '303 in', 403, 403, 403, 403, 200),
  'POST /exports': row('/exports', '303 in', 403, 403, 403, 403, 422),
  'GET /record/copy': row('/record/copy', '303 in', 200, 200, 403, 403, 403),
  'GET /people': row('/people', '303 in', 403, 403, 403, 403, 200),
  'GET /people/:id': row('/people/4', '303 in', 403, 403, 403, 403, 200),
  'GET /people/:id/transcript': row('/people/4/transcript', '303 in', 403, 403, 403, 403, 200),
  'POST /people/:id/transcript': row('/people/4/transcript', '303 in', 403, 403, 403, 403, 422),
  // No transcript was given out.
  'GET /transcripts/:code': row('/transcripts/222222222222', '303 in', 403, 403, 403, 403, 404),
  'GET /transcripts/:code/pdf': row('/transcripts/222222222222/pdf', '303 in', 403, 403, 403, 403, 404),
  'POST /transcripts/:code/withdraw': row('/transcripts/2222/withdraw', '303 in', 403, 403, 403, 403, 404),
  'GET /verify': row('/verify', 200, 200, 200, 200, 200, 200),
  'GET /visit': row('/visit', '303 in', 403, 403, 403, 403, 200),
  'POST /visit/assessors': row('/visit/assessors', '303 in', 403, 403, 403, 403, 422),
  'POST /visit/improvements': row('/visit/improvements', '303 in', 403, 403, 403, 403, 422),
  'POST /visit/folder': row('/visit/folder', '303 in', 403, 403, 403, 403, 422),
  'GET /audit': row('/audit', '303 in', 403, 403, 403, 403, 200),
  'GET /program': row('/program', '303 in', 403, 403, 403, 403, 200),
  'POST /program': row('/program', '303 in', 403, 403, 403, 403, 303),
  'POST /program/keys': row('/program/keys', '303 in', 403, 403, 403, 403, 303),
  // Published: who signs, with which keys, and what is certified. No key was made yet, and these are nobody's UUIDs.
  'GET /issuer': row('/issuer', 200, 200, 200, 200, 200, 200),
  'GET /keys': row('/keys', 200, 200, 200, 200, 200, 200),
  'GET /keys/:keyId': row('/keys/none', 404, 404, 404, 404, 404, 404),
  'GET /ims/case/v1p1/CFPackages/:uuid': row('/ims/case/v1p1/CFPackages/x', 404, 404, 404, 404, 404, 404),
  'GET /ims/case/v1p1/CFDocuments/:uuid': row('/ims/case/v1p1/CFDocuments/x', 404, 404, 404, 404, 404, 404),
  'GET /ims/case/v1p1/CFItems/:uuid': row('/ims/case/v1p1/CFItems/x', 404, 404, 404, 404, 404, 404),
  'POST /program/terms': row('/program/terms', '303 in', 403, 403, 403, 403, 422),
  'GET /sections/new': row('/sections/new', '303 in', 403, 403, 200, 200, 403),
  // 422: nothing is written; no sign-in name is given.
  'POST /sections': row('/sections', '303 in', 403, 403, 422, 422, 403),
  'GET /sections/:id/settings': row('/sections/1/settings', '303 in', 403, 403, 200, 404, 403),
  'POST /sections/:id/settings': row('/sections/1/settings', '303 in', 403, 403, 422, 404, 403),
  'POST /sections/:id/instructors': row('/sections/1/instructors', '303 in', 403, 403, 422, 404, 403),
  'POST /sections/:id/instructors/:personId/remove': row(
    '/sections/1/instructors/999/remove',
    '303 in',
    403,
    403,
    303,
    404,
    403,
  ),
  'GET /lab-sheets': row('/lab-sheets', '303 in', 403, 403, 200, 200, 403),
  'GET /lab-sheets/new': row('/lab-sheets/new', '303 in', 403, 403, 200, 200, 403),
  'POST /lab-sheets': row('/lab-sheets', '303 in', 403, 403, 422, 422, 403),
  // Sheet 91 is marchbanks's, assigned to nobody.
  'GET /lab-sheets/:id': row('/lab-sheets/91', '303 in', 403, 403, 200, 404, 403),
  'POST /lab-sheets/:id': row('/lab-sheets/91', '303 in', 403, 403, 422, 404, 403),
  'GET /lab-sheets/:id/preview': row('/lab-sheets/91/preview', '303 in', 403, 403, 200, 404, 403),
  'POST /lab-sheets/:id/copy': row('/lab-sheets/91/copy', '303 in', 403, 403, 303, 404, 403),
  'GET /lab-sheets/:id/assign': row('/lab-sheets/91/assign', '303 in', 403, 403, 200, 404, 403),
  'POST /lab-sheets/:id/assign': row('/lab-sheets/91/assign', '303 in', 403, 403, 422, 404, 403),
  'GET /sections/:id/sheets/:sheetId': row('/sections/1/sheets/1', '303 in', 403, 403, 200, 404, 403),
  'POST /sections/:id/sheets/:sheetId': row('/sections/1/sheets/1', '303 in', 403, 403, 303, 404, 403),
  // 409: it has been begun.
  'POST /sections/:id/sheets/:sheetId/withdraw': row(
    '/sections/1/sheets/1/withdraw',
    '303 in',
    403,
    403,
    409,
    404,
    403,
  ),
  'POST /sections/:id/sheets/:sheetId/extra-time': row(
    '/sections/1/sheets/1/extra-time',
    '303 in',
    403,
    403,
    422,
    404,
    403,
  ),
  'GET /sections/:id/scores': row('/sections/1/scores', '303 in', 403, 403, 200, 404, 403),
  'POST /sections/:id/scores': row('/sections/1/scores', '303 in', 403, 403, 200, 404, 403),
  // Engines and gauges stand in one shop: every instructor sees them. Engine 1 and gauge 1 were written down by marchbanks.
  'GET /shop': row('/shop', '303 in', 403, 403, 200, 200, 403),
  'GET /shop/engines/new': row('/shop/engines/new', '303 in', 403, 403, 200, 200, 403),
  'POST /shop/engines': row('/shop/engines', '303 in', 403, 403, 422, 422, 403),
  'GET /shop/engines/:id': row('/shop/engines/1', '303 in', 403, 403, 200, 200, 403),
  'POST /shop/engines/:id': row('/shop/engines/1', '303 in', 403, 403, 422, 422, 403),
  'POST /shop/engines/:id/work': row('/shop/engines/1/work', '303 in', 403, 403, 422, 422, 403),
  'POST /shop/engines/:id/references': row('/shop/engines/1/references', '303 in', 403, 403, 422, 422, 403),
  'POST /shop/engines/:id/archive': row('/shop/engines/1/archive', '303 in', 403, 403, 303, 303, 403),
  'GET /shop/gauges/new': row('/shop/gauges/new', '303 in', 403, 403, 200, 200, 403),
  'POST /shop/gauges': row('/shop/gauges', '303 in', 403, 403, 422, 422, 403),
  'GET /shop/gauges/:id': row('/shop/gauges/1', '303 in', 403, 403, 200, 200, 403),
  'POST /shop/gauges/:id': row('/shop/gauges/1', '303 in', 403, 403, 422, 422, 403),
  'POST /shop/gauges/:id/checks': row('/shop/gauges/1/checks', '303 in', 403, 403, 422, 422, 403),
  'POST /shop/gauges/:id/archive': row('/shop/gauges/1/archive', '303 in', 403, 403, 303, 303, 403),
  'GET /pin': row('/pin', '303 in', 200, 200, 200, 200, 403),
  'POST /pin': row('/pin', '303 in', 422, 422, 422, 422, 403),
  'POST /sections/:id/substitutes': row('/sections/1/substitutes', '303 in', 403, 403, 422, 404, 403),
  'GET /sections/:id/rotation': row('/sections/1/rotation', '303 in', 403, 403, 200, 404, 403),
  'GET /sections/:id/sign-offs': row('/sections/1/sign-offs', '303 in', 403, 403, 200, 404, 403),
  'POST /sections/:id/sign-offs': row('/sections/1/sign-offs', '303 in', 403, 403, 422, 404, 403),
  // 400: no entries, no mark is sent. 422: no PIN, no photo. 409: nobody has signed yet. No photo 1 is there.
  'GET /sections/:id/sign-offs/:signOffId': row(
    `/sections/1/sign-offs/${SIGN_OFF}`,
    '303 in',
    403,
    403,
    200,
    404,
    403,
  ),
  'POST /sections/:id/sign-offs/:signOffId/entries': row(
    `/sections/1/sign-offs/${SIGN_OFF}/entries`,
    '303 in',
    403,
    403,
    400,
    404,
    403,
  ),
  'POST /sections/:id/sign-offs/:signOffId/keep': row(
    `/sections/1/sign-offs/${SIGN_OFF}/keep`,
    '303 in',
    403,
    403,
    303,
    404,
    403,
  ),
  'POST /sections/:id/sign-offs/:signOffId/sign': row(
    `/sections/1/sign-offs/${SIGN_OFF}/sign`,
    '303 in',
    403,
    403,
    400,
    404,
    403,
  ),
  'POST /sections/:id/sign-offs/:signOffId/countersign': row(
    `/sections/1/sign-offs/${SIGN_OFF}/countersign`,
    '303 in',
    403,
    403,
    409,
    404,
    403,
  ),
  'POST /sections/:id/sign-offs/:signOffId/photos': row(
    `/sections/1/sign-offs/${SIGN_OFF}/photos`,
    '303 in',
    403,
    403,
    422,
    404,
    403,
  ),
  'GET /sections/:id/sign-offs/:signOffId/photos/:photoId': row(
    `/sections/1/sign-offs/${SIGN_OFF}/photos/1`,
    '303 in',
    403,
    403,
    200,
    404,
    403,
  ),
  'GET /sign-offs/:id': row(`/sign-offs/${SIGN_OFF}`, '303 in', 200, 404, 403, 403, 403),
  'POST /sign-offs/:id/marks': row(`/sign-offs/${SIGN_OFF}/marks`, '303 in', 400, 404, 403, 403, 403),
  'POST /sign-offs/:id/reading': row(`/sign-offs/${SIGN_OFF}/reading`, '303 in', 303, 404, 403, 403, 403),
  // Gauge study 1 is section A's. 422: there is no title.
  'GET /sections/:id/gauge-studies': row('/sections/1/gauge-studies', '303 in', 403, 403, 200, 404, 403),
  'GET /sections/:id/gauge-studies/new': row(
    '/sections/1/gauge-studies/new',
    '303 in',
    403,
    403,
    200,
    404,
    403,
  ),
  'POST /sections/:id/gauge-studies': row('/sections/1/gauge-studies', '303 in', 403, 403, 422, 404, 403),
  'GET /sections/:id/gauge-studies/:studyId': row(
    '/sections/1/gauge-studies/1',
    '303 in',
    403,
    403,
    200,
    404,
    403,
  ),
  'GET /sections/:id/gauge-studies/:studyId/sheets': row(
    '/sections/1/gauge-studies/1/sheets',
    '303 in',
    403,
    403,
    200,
    404,
    403,
  ),
  'GET /sections/:id/gauge-studies/:studyId/sheets/:person/:repeat': row(
    '/sections/1/gauge-studies/1/sheets/1/2',
    '303 in',
    403,
    403,
    200,
    404,
    403,
  ),
  'POST /sections/:id/gauge-studies/:studyId/sheets/:person/:repeat': row(
    '/sections/1/gauge-studies/1/sheets/1/2',
    '303 in',
    403,
    403,
    303,
    404,
    403,
  ),
  'POST /sections/:id/gauge-studies/:studyId/export': row(
    '/sections/1/gauge-studies/1/export',
    '303 in',
    403,
    403,
    200,
    404,
    403,
  ),
  'GET /sections/:id/floor': row('/sections/1/floor', '303 in', 403, 403, 200, 404, 403),
  'GET /sections/:id/floor/rows': row('/sections/1/floor/rows', '303 in', 403, 403, 200, 404, 403),
  'POST /sections/:id/floor/:studentId/answer': row(
    '/sections/1/floor/4/answer',
    '303 in',
    403,
    403,
    303,
    404,
    403,
  ),
  'POST /attempts/:id/call': row(`/attempts/${OPEN}/call`, '303 in', 303, 404, 403, 403, 403),
  // The last line: from here on the section's students see no sheets.
  'POST /sections/:id/archive': row('/sections/1/archive', '303 in', 403, 403, 303, 404, 403),
};

const CALLERS = {
  nobody: null,
  student: '003201',
  otherStudent: '003204',
  instructor: 'marchbanks',
  otherInstructor: 'duenas',
  coordinator: 'vossberg',
} as const;

describe('the access table', () => {
  let built: TestApp;
  beforeAll(async () => {
    built = await testApp();
    const own = { signInName: '003201', sectionId: 1 };
    await givenAttempt(built.store, { ...own, id: OPEN, itemId: 3, tryNumber: 2, seed: 'open', open: true });
    await givenAttempt(built.store, { ...own, id: TO_HAND_IN, itemId: 5, seed: 'to hand in', open: true });
    await givenAttempt(built.store, { ...own, id: GRADED, itemId: 3, seed: 'graded' });
    built.store.raw.exec(`
      INSERT INTO join_requests VALUES (1, 1, 'New', 'One', '009901', NULL, '2026-09-10T09:00:00.000Z'), (2, 1, 'New', 'Two', '009902', NULL, '2026-09-10T09:00:00.000Z');
      INSERT INTO paper_batches SELECT 1, 1, 'dials', 'Reading dials', '{"kind":"dials","definition":{"kind":"dial-reading","drills":4,"level":2}}', id, '2026-09-10T09:00:00.000Z' FROM people WHERE sign_in_name = 'marchbanks';
      INSERT INTO paper_sheets VALUES ('${PAPER}', 1, 0, 4, 'paper-seed');`);
    built.store.raw.exec(`
      INSERT INTO drill_rounds VALUES ('${ROUND}', 4, 10, '2026-09-10T09:00:00.000Z');
      INSERT INTO drill_dials VALUES ('${ROUND}', 1, NULL, '{"kind":"dial-reading","drills":1}', 's', '1', '2026-09-10T09:00:00.000Z');
      INSERT INTO lab_sheets (id, title, introduction, created_at, made_by) SELECT 91, 'Own', '', '2026-09-10T09:00:00.000Z', id FROM people WHERE sign_in_name = 'marchbanks';
      INSERT INTO shop_engines SELECT 1, id, '2026-09-10T09:00:00.000Z', NULL FROM people WHERE sign_in_name = 'marchbanks';
      INSERT INTO shop_engine_versions SELECT 1, 1, '{"name":"Six","number":"E1","pumps":6,"firingOrder":[],"barring":"clockwise","unit":"in","nominal":null,"lower":0.2,"upper":null,"source":"Manual","torques":[]}', id, '2026-09-10T09:00:00.000Z' FROM people WHERE sign_in_name = 'marchbanks';
      INSERT INTO shop_gauges SELECT 1, 'indicator', 'G1', '0 to 1 in', 0.001, 'in', 'warn', id, '2026-09-10T09:00:00.000Z', NULL FROM people WHERE sign_in_name = 'marchbanks';
      INSERT INTO lab_sheet_items (id, lab_sheet_id, ordinal, title, kind, definition) VALUES (91, 91, 1, 'Shop', 'shop-engine', '{"kind":"shop-engine","version":1,"steps":[{"text":"Glasses","hold":false,"alone":true}],"prompts":2,"agreement":{"unit":"in","value":0.002}}');
      INSERT INTO sign_offs SELECT '${SIGN_OFF}', 1, 91, 4, NULL, 1, 1, 2, NULL, NULL,
        '{"kind":"shop-engine","version":1,"steps":[{"text":"Glasses","hold":false,"alone":true}],"prompts":2,"agreement":{"unit":"in","value":0.002}}',
        '{"gauge":null,"wrench":null}', NULL, NULL, id, '2026-09-10T09:00:00.000Z' FROM people WHERE sign_in_name = 'marchbanks';
      INSERT INTO evidence_rules (competency_id, version, rule, in_force_from, items) SELECT 1, 2, rule, in_force_from, '[3,5,91]' FROM evidence_rules;
      INSERT INTO sign_off_photos SELECT 1, '${SIGN_OFF}', NULL, 'image/png', x'89504e47', id, '2026-09-10T09:00:00.000Z' FROM people WHERE sign_in_name = 'marchbanks';
      INSERT INTO roster_previews SELECT '${PREVIEW}', 1, id, '{"classes":[{"sourcedId":null,"title":"the list","rows":[],"teachers":[]}],"notes":[]}', '2026-09-14T07:00:00.000Z' FROM people WHERE sign_in_name = 'marchbanks';
      INSERT INTO gauge_studies SELECT 1, 1, 'Lift of E1', 'in', 0.001, NULL, '["1","2"]', '["A","B"]', 2, 's', id, '2026-09-10T09:00:00.000Z' FROM people WHERE sign_in_name = 'marchbanks';
      INSERT INTO own_lessons SELECT 1, id, NULL, '2026-09-10T09:00:00.000Z' FROM people WHERE sign_in_name = 'marchbanks';
      INSERT INTO own_lesson_versions VALUES (1, 1, 'Own', 20, 'Aim', 'Words', 'common practice', 0, '2026-09-10T09:00:00.000Z');
      INSERT INTO lesson_images VALUES ('${PICTURE}', 1, 'A dot', 'image/png', x'89504e47', '2026-09-10T09:00:00.000Z');`);
  }, 60_000);
  afterAll(() => built.close());

  it('has a line for every route, and no line for a route that is gone', () => {
    const routes = built.app.routeTable.map((route) => `${route.method} ${route.url}`);
    // A stream has no end to wait for here: tests/server/floor asks for it as each caller.
    const asked = routes.filter((route) => route !== 'GET /sections/:id/floor/events');
    expect(Object.keys(MATRIX).sort()).toEqual([...new Set(asked)].sort());
  });

  for (const [route, expected] of Object.entries(MATRIX)) {
    it(`answers ${route} to each caller as the table says`, async () => {
      const method = route.split(' ')[0];
      const answers: Record<string, Answer> = {};
      for (const [caller, name] of Object.entries(CALLERS)) {
        const agent = name ? await sessionFor(built, name) : visitor(built.app);
        const response = method === 'GET' ? await agent.get(expected.path) : await agent.post(expected.path);
        const toSignIn = String(response.headers.location ?? '').startsWith('/sign-in');
        answers[caller] = response.statusCode === 303 && toSignIn ? '303 in' : response.statusCode;
      }
      const { path: _, ...columns } = expected;
      expect(answers).toEqual(columns);
    });
  }
});
