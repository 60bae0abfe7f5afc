import type { Kysely } from 'kysely';
import type { Database } from '../database/tables.ts';
import { FULL_POINTS } from '../engine/index.ts';
import {
  type Assignment,
  type Done,
  dueFor,
  itemScore,
  listAssignments,
  listExtensions,
  listSheetItems,
  partsScore,
  type SheetScore,
  sheetScore,
  weighted,
} from '../labsheets/index.ts';
import { listSectionWork, listShippedLessons } from '../lessons/index.ts';
import { listPointsHandedIn } from '../review/index.ts';
import { listSigned } from '../sign-offs/index.ts';

/** One sheet of the section, as far as a score is made of it. */
export interface ScoredSheet extends Assignment {
  readonly items: readonly { readonly id: number; readonly title: string; readonly share: number }[];
}

export interface StudentScores {
  readonly personId: number;
  /** In the order of the sheets. */
  readonly sheets: readonly (SheetScore & { readonly items: readonly (number | null)[] })[];
}

/** The scores of a section: each student's on each sheet, as they stand at `now`. The caller has made sure that the section is theirs to see. */
export async function sectionScores(
  db: Kysely<Database>,
  sectionId: number,
  studentIds: readonly number[],
  now: string,
): Promise<{ readonly sheets: readonly ScoredSheet[]; readonly students: readonly StudentScores[] }> {
  const assigned = await listAssignments(db, sectionId);
  const runs = gather(
    (await listPointsHandedIn(db, sectionId)).map(({ studentId, itemId, points, weights, at }) => ({
      key: `${studentId} ${itemId}`,
      percent: weighted(points, weights ?? FULL_POINTS),
      at,
    })),
  );
  const signed = gather(
    (await listSigned(db, sectionId)).map(({ studentId, itemId, passed, at }) => ({
      ...{ key: `${studentId} ${itemId}`, percent: passed ? 100 : 0, at },
    })),
  );
  const work = await listSectionWork(db, sectionId);
  const toDone = ({ personId, lesson, at }: (typeof work.reads)[number]) => ({
    key: `${personId} ${lesson}`,
    percent: 100,
    at,
  });
  const reads = gather(work.reads.map(toDone));
  const right = gather(work.right.map(toDone));
  const questions = new Map(listShippedLessons().map((lesson) => [lesson.slug, lesson.questions]));
  const sheets = await Promise.all(
    assigned.map(async (one) => ({
      one,
      items: await listSheetItems(db, one.sheetId),
      extra: await listExtensions(db, sectionId, one.sheetId),
    })),
  );
  return {
    sheets: sheets.map(({ one, items }) => ({
      ...one,
      items: items.map(({ id, title, share }) => ({ id, title, share })),
    })),
    students: studentIds.map((personId) => ({
      personId,
      sheets: sheets.map(({ one, items, extra }) => {
        const rule = dueFor(one, extra.get(personId));
        const scores = items.map((item): number | null => {
          if (item.kind === 'lesson')
            return itemScore(reads.get(`${personId} ${item.lesson_slug}`) ?? [], rule, 'best');
          if (item.kind === 'question-set')
            return partsScore(
              right.get(`${personId} ${item.lesson_slug}`) ?? [],
              questions.get(item.lesson_slug ?? '') ?? 0,
              rule,
            );
          if (item.kind === 'shop-engine')
            return itemScore(signed.get(`${personId} ${item.id}`) ?? [], rule, 'best');
          return itemScore(runs.get(`${personId} ${item.id}`) ?? [], rule, one.counts);
        });
        const scored = items.map(({ share }, index) => ({ share, score: scores[index] ?? null }));
        return { ...sheetScore(scored, rule, now), items: scores };
      }),
    })),
  };
}

function gather(
  rows: readonly { readonly key: string; readonly percent: number; readonly at: string }[],
): ReadonlyMap<string, readonly Done[]> {
  const found = new Map<string, Done[]>();
  for (const { key, percent, at } of rows) {
    const done = found.get(key) ?? [];
    done.push({ percent, at });
    found.set(key, done);
  }
  return found;
}
