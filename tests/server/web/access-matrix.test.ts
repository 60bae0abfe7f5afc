import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { visitor } from '../../support/agent.ts';
import { type TestApp, testApp } from '../../support/build.ts';
import { sessionFor } from '../../support/session.ts';

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
  'GET /sections': row('/sections', '303 in', 403, 403, 200, 200, 403),
  'GET /sections/:id': row('/sections/1', '303 in', 403, 403, 200, 404, 403),
  'GET /sections/:id/roster': row('/sections/1/roster', '303 in', 403, 403, 200, 404, 403),
  'POST /sections/:id/roster': row('/sections/1/roster', '303 in', 403, 403, 422, 404, 403),
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
  });
  afterAll(() => built.close());

  it('has a line for every route, and no line for a route that is gone', () => {
    const routes = built.app.routeTable.map((route) => `${route.method} ${route.url}`);
    expect(Object.keys(MATRIX).sort()).toEqual([...new Set(routes)].sort());
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
