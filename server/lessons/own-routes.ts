import { randomUUID } from 'node:crypto';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { writeTransaction } from '../database/transaction.ts';
import { actorOf } from '../web/access.ts';
import { NotFound } from '../web/errors.ts';
import { type Problems, readForm, readId, type Values } from '../web/forms.ts';
import { imageTypeOf } from '../web/image-type.ts';
import { noticeFor } from '../web/notices.ts';
import { timeWords } from '../web/words/index.ts';
import { readBody } from './load.ts';
import { ownForm, ownTextOf } from './own-form.ts';
import {
  addOwnLesson,
  addVersion,
  getImage,
  getOwnLesson,
  listImages,
  listOwnLessons,
  type OwnLesson,
} from './own-queries.ts';
import { ownKey, problemOf } from './own-render.ts';
import type { Shelf } from './shelf.ts';

type OwnRequest = FastifyRequest<{ Params: { id: string } }>;
const INSTRUCTOR = { config: { access: 'instructor' } } as const;

/** What a page to write on shows. */
interface Writing {
  /** Null while it has not been kept yet. */
  readonly lesson: OwnLesson | null;
  readonly basedOn: string | null;
  readonly values: Values;
  readonly problems: Problems;
  readonly previewOf?: string;
  /** What has just been done, where the page is the answer to it. */
  readonly said?: string | undefined;
}

/** Where instructors write lessons of their own, and versions of ours. Ours are never touched. */
export function ownRoutes(app: FastifyInstance, shelf: Shelf): void {
  const { store } = app;
  const { course } = shelf;

  app.get('/own-lessons', INSTRUCTOR, async (request, reply) => {
    const lessons = (await listOwnLessons(store.db, actorOf(request))).map((lesson) => ({
      id: lesson.id,
      key: ownKey(lesson.id),
      title: lesson.title,
      basedOn: lesson.basedOn === null ? null : (shelf.shipped(lesson.basedOn)?.head.title ?? null),
      at: timeWords(lesson.at),
    }));
    return reply.page('lessons/own-list', { title: 'Own lessons', lessons });
  });

  app.get('/own-lessons/new', INSTRUCTOR, async (request, reply) => {
    const { from } = request.query as { from?: unknown };
    const base = typeof from === 'string' ? shelf.shipped(from) : undefined;
    const values: Values =
      base === undefined
        ? { sources: 'common practice, no source', minutes: '20' }
        : {
            title: base.head.title,
            minutes: String(base.head.minutes),
            aims: base.head.aims.join('\n'),
            body: base.body.trim(),
            sources: base.head.sources.map((source) => `${source.what}: ${source.from}`).join('\n'),
            ...(base.head.cautions ? { cautions: 'on' } : {}),
          };
    return writingPage(reply, { lesson: null, basedOn: base?.slug ?? null, values, problems: {} });
  });

  app.post('/own-lessons', INSTRUCTOR, async (request, reply) => {
    const actor = actorOf(request);
    const { basedOn: asked } = (request.body ?? {}) as { basedOn?: unknown };
    const basedOn = typeof asked === 'string' && shelf.shipped(asked) !== undefined ? asked : null;
    const form = readForm(ownForm, request.body);
    const writing = { lesson: null, basedOn, values: form.values, problems: form.problems };
    if (!form.ok) return writingPage(reply.code(422), writing);
    const own = ownTextOf(form.value);
    const wrong = problemOf(own, course);
    if (wrong !== null) return writingPage(reply.code(422), { ...writing, problems: { body: wrong } });
    if (form.value.do === 'look') return writingPage(reply, { ...writing, previewOf: own.body });
    const id = await writeTransaction(store, (trx) =>
      addOwnLesson(trx, actor, basedOn, own, app.clock().toISOString()),
    );
    return reply.redirect(`/own-lessons/${id}?said=lesson-kept`, 303);
  });

  app.get('/own-lessons/:id', INSTRUCTOR, async (request: OwnRequest, reply) => {
    const lesson = await getOwnLesson(store.db, actorOf(request), readId(request.params.id));
    const { title, minutes, aims, body, sources, cautions } = lesson;
    const values: Values = {
      ...{ title, minutes: String(minutes), aims, body, sources },
      ...(cautions ? { cautions: 'on' } : {}),
    };
    return writingPage(reply, { lesson, basedOn: lesson.basedOn, values, problems: {} });
  });

  app.post('/own-lessons/:id', INSTRUCTOR, async (request: OwnRequest, reply) => {
    const actor = actorOf(request);
    const lesson = await getOwnLesson(store.db, actor, readId(request.params.id));
    const form = readForm(ownForm, request.body);
    const writing = { lesson, basedOn: lesson.basedOn, values: form.values, problems: form.problems };
    if (!form.ok) return writingPage(reply.code(422), writing);
    const own = ownTextOf(form.value);
    const wrong = problemOf(own, course);
    if (wrong !== null) return writingPage(reply.code(422), { ...writing, problems: { body: wrong } });
    if (form.value.do === 'look') return writingPage(reply, { ...writing, previewOf: own.body });
    await writeTransaction(store, (trx) => addVersion(trx, actor, lesson.id, own, app.clock().toISOString()));
    return reply.redirect(`/own-lessons/${lesson.id}?said=lesson-kept`, 303);
  });

  app.post('/own-lessons/:id/images', INSTRUCTOR, async (request: OwnRequest, reply) => {
    const lesson = await getOwnLesson(store.db, actorOf(request), readId(request.params.id));
    const { file, imageName: given } = (request.body ?? {}) as { file?: unknown; imageName?: unknown };
    const name = typeof given === 'string' ? given.trim().slice(0, 120) : '';
    const type = file instanceof Uint8Array ? imageTypeOf(file) : null;
    // The picture comes with whatever has been typed and not kept yet; all of it is on the page again afterwards.
    const values: Values = { ...readForm(ownForm, request.body).values, imageName: name };
    const refuse = (problems: Problems) =>
      writingPage(reply.code(422), { lesson, basedOn: lesson.basedOn, values, problems });
    if (type === null || !(file instanceof Uint8Array))
      return refuse({ image: 'Choose a picture: PNG, JPEG or WebP, at most 1 MB.' });
    if (name === '') return refuse({ imageName: 'Say what is to be seen on it, for whoever cannot see it.' });
    await writeTransaction(store, (trx) =>
      trx
        .insertInto('lesson_images')
        .values({
          id: randomUUID(),
          own_lesson_id: lesson.id,
          name,
          type,
          bytes: Buffer.from(file),
          at: app.clock().toISOString(),
        })
        .execute(),
    );
    return writingPage(reply, {
      ...{ lesson, basedOn: lesson.basedOn, problems: {}, said: noticeFor('picture-kept') },
      values: { ...values, imageName: '' },
    });
  });

  app.get('/lesson-images/:id', { config: { access: 'signed-in' } }, async (request: OwnRequest, reply) => {
    const { id } = request.params;
    if (!/^[0-9a-f-]{36}$/.test(id)) throw new NotFound();
    const image = await getImage(store.db, actorOf(request), id);
    return reply
      .type(image.type)
      .header('content-security-policy', "default-src 'none'; sandbox")
      .send(image.bytes);
  });

  async function writingPage(reply: FastifyReply, writing: Writing) {
    const { lesson, basedOn, values, problems, previewOf, said } = writing;
    const shown = previewOf === undefined ? null : readBody(previewOf, 'own', course.glossary, 'with-images');
    return reply.page('lessons/own-lesson', {
      title: lesson === null ? 'New lesson' : `Change “${lesson.title}”`,
      crumbs: [
        { href: '/lessons', text: 'Lessons' },
        { href: '/own-lessons', text: 'Own lessons' },
        { text: lesson === null ? 'New' : lesson.title },
      ],
      scripts: shown?.live ? ['lesson-figure.js'] : [],
      action: lesson === null ? '/own-lessons' : `/own-lessons/${lesson.id}`,
      key: lesson === null ? null : ownKey(lesson.id),
      basedOn,
      basedOnTitle: basedOn === null ? null : (shelf.shipped(basedOn)?.head.title ?? null),
      values,
      problems,
      ...(said === undefined ? {} : { said }),
      preview: shown?.html ?? null,
      images: lesson === null ? [] : await listImages(store.db, lesson.id),
    });
  }
}
