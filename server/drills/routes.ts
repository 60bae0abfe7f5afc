import { randomUUID } from 'node:crypto';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { writeTransaction } from '../database/transaction.ts';
import { type DialReadingAction, graduationsPerTurn, lookAt, type WrittenDrill } from '../engine/index.ts';
import { actorOf } from '../web/access.ts';
import { BadRequest } from '../web/errors.ts';
import { type Problems, readForm, readId } from '../web/forms.ts';
import { answerOf, drillBench, foldDrill, printedDial } from './answer.ts';
import { appendDrillActions } from './append-actions.ts';
import { feedbackOf } from './feedback.ts';
import {
  type AnswerRow,
  appendAnswer,
  beginRound,
  type DialRow,
  type Fresh,
  findAnswer,
  getDial,
  getOwnRound,
  latestDial,
  listAnswers,
  listDrillActions,
  listRounds,
  type RoundRow,
  takeNextDial,
} from './queries.ts';
import { type DrillBoxes, drillActionsBody, drillBoxes } from './schema.ts';
import { readBoxes } from './sheet.ts';
import {
  type AnsweredPage,
  type DialPage,
  dialOnPage,
  drillsPage,
  progressOf,
  purposeWords,
  roundLines,
} from './views.ts';

const STUDENT = { config: { access: 'student' } } as const;
const NOT_WATCHED =
  'Watch the pointer move before you check: where it stands does not say how many turns it made.';

interface RoundParams {
  Params: { id: string };
}
interface DialParams {
  Params: { id: string; number: string };
}

export function drillsRoutes(app: FastifyInstance): void {
  const { store } = app;
  const now = () => app.clock().toISOString();
  const fresh = (): Fresh => ({ id: randomUUID(), seed: app.newSeed(), at: now() });
  const ownDial = async (request: FastifyRequest<DialParams>) => {
    const round = await getOwnRound(store.db, actorOf(request), request.params.id);
    return { round, dial: await getDial(store.db, round, readId(request.params.number)) };
  };

  app.get('/drills', STUDENT, async (request, reply) => {
    const { id } = actorOf(request);
    return reply.page(
      'drills/home',
      drillsPage(await listRounds(store.db, id), await listAnswers(store.db, id)),
    );
  });

  app.post('/drills/rounds', STUDENT, async (request, reply) => {
    const id = await writeTransaction(store, (trx) => beginRound(trx, actorOf(request), fresh()));
    return reply.redirect(`/drills/rounds/${id}`, 303);
  });

  app.get<RoundParams>('/drills/rounds/:id', STUDENT, async (request, reply) => {
    const round = await getOwnRound(store.db, actorOf(request), request.params.id);
    const dial = await latestDial(store.db, round.id);
    const answer = await findAnswer(store.db, dial);
    return answer === undefined
      ? openPage(reply, round, dial, BLANK, {})
      : answeredPage(reply, round, dial, answer);
  });

  app.post<RoundParams>('/drills/rounds/:id/dials', STUDENT, async (request, reply) => {
    const round = await getOwnRound(store.db, actorOf(request), request.params.id);
    await writeTransaction(store, (trx) => takeNextDial(trx, round, fresh()));
    return reply.redirect(`/drills/rounds/${round.id}`, 303);
  });

  app.post<DialParams>('/drills/rounds/:id/dials/:number/actions', STUDENT, async (request, reply) => {
    const { dial } = await ownDial(request);
    const body = drillActionsBody.safeParse(request.body);
    if (!body.success) throw new BadRequest('What was done here could not be read. Reload the page.');
    const batch = { from: body.data.from, actions: body.data.actions as DialReadingAction[] };
    const log = await writeTransaction(store, (trx) => appendDrillActions(trx, dial, batch, now()));
    const seen = foldDrill(drillBench(dial), log).seen.slice(batch.from);
    return reply.send({
      next: log.length,
      seen: seen.map(({ samples, now: view }) => ({ samples, now: view })),
    });
  });

  app.post<DialParams>('/drills/rounds/:id/dials/:number/answer', STUDENT, async (request, reply) => {
    const { round, dial } = await ownDial(request);
    const form = readForm(drillBoxes, request.body);
    const toRound = () => reply.redirect(`/drills/rounds/${round.id}`, 303);
    const typed = form.ok ? form.value : { ...BLANK, ...pickBoxes(form.values) };
    const bench = drillBench(dial);
    const { written, problems } = readBoxes(printedDial(bench), typed, asksHand(dial));
    const actions = await listDrillActions(store.db, dial);
    const isWatched = foldDrill(bench, actions).state.watched[0] === true;
    const found: Problems = { ...problems, ...form.problems };
    if (!isWatched) found.reading ??= NOT_WATCHED;
    // What cannot be read changes nothing at a dial that is answered.
    if (Object.keys(found).length > 0 && (await findAnswer(store.db, dial)) !== undefined) return toRound();
    if (Object.keys(found).length > 0) return openPage(reply.code(422), round, dial, typed, found);
    const answer = {
      ...answerOf(bench, actions, written),
      typed,
      sheet: written,
      actionCount: actions.length,
      at: now(),
    };
    await writeTransaction(store, (trx) => appendAnswer(trx, dial, answer));
    return toRound();
  });

  async function openPage(
    reply: FastifyReply,
    round: RoundRow,
    dial: DialRow,
    typed: DrillBoxes,
    problems: Problems,
  ) {
    const bench = drillBench(dial);
    const actions = await listDrillActions(store.db, dial);
    const view = lookAt(bench, foldDrill(bench, actions).state);
    const printed = printedDial(bench);
    const page: DialPage = {
      title: `Dial ${dial.number} of ${round.dials}`,
      wide: true,
      scripts: ['drills.js'],
      round,
      number: dial.number,
      next: actions.length,
      made: view.made,
      dial: dialOnPage(printed, view),
      unit: printed.unit,
      perTurn: graduationsPerTurn(printed),
      hasHand: printed.counter !== 'none',
      asksHand: asksHand(dial),
      purpose: purposeWords(dial),
      typed,
      problems,
    };
    return reply.page('drills/dial', page);
  }

  async function answeredPage(reply: FastifyReply, round: RoundRow, dial: DialRow, answer: AnswerRow) {
    const bench = drillBench(dial);
    const answers = await listAnswers(store.db, round.student_id);
    const feedback = feedbackOf(bench, JSON.parse(answer.grade), JSON.parse(answer.sheet) as WrittenDrill);
    const { seen, state } = foldDrill(bench, [{ type: 'watch', speed: 1 }]);
    const page: AnsweredPage = {
      title: `Dial ${dial.number} of ${round.dials}: ${feedback.verdict}`,
      wide: true,
      scripts: ['drills.js'],
      round,
      number: dial.number,
      isLast: dial.number >= round.dials,
      dial: dialOnPage(printedDial(bench), lookAt(bench, state)),
      samples: JSON.stringify(seen[0]?.samples ?? []),
      feedback,
      progress: progressOf(answers),
      table: roundLines(answers, round.id),
    };
    return reply.page('drills/answered', page);
  }
}

const BLANK: DrillBoxes = { turns: '', pointer: '', counterBefore: '', counterAfter: '', reading: '' };

/** What was typed comes back into its box, even where it was too long to be read. */
function pickBoxes(values: Readonly<Record<string, string>>): Partial<DrillBoxes> {
  return Object.fromEntries(
    Object.keys(BLANK).flatMap((name) => (values[name] === undefined ? [] : [[name, values[name]]])),
  );
}

/** Where the small hand is what the dial was chosen for, its boxes may not stay blank. */
function asksHand({ skill }: DialRow): boolean {
  return skill === 'revolution-counter';
}
