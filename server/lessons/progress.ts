import type { Lesson } from './load.ts';
import { type listSectionReading, readingKey, UNREAD } from './reading.ts';

interface Student {
  readonly id: number;
  readonly given_name: string;
  readonly family_name: string;
}

/** How far a section is, by lesson and by student. */
export interface Progress {
  readonly byLesson: readonly {
    readonly slug: string;
    readonly title: string;
    readonly opened: number;
    readonly read: number;
    /** Share of its questions answered right once, over all students, 0 to 1; null without questions. */
    readonly right: number | null;
  }[];
  readonly byStudent: readonly {
    readonly id: number;
    readonly name: string;
    readonly read: number;
    readonly begun: number;
    readonly right: number;
    readonly questions: number;
    /** The first lesson that has not been read; null when all have. */
    readonly next: string | null;
  }[];
  readonly lessons: number;
}

/** Puts together what was opened, read and answered. */
export function progressOf(
  students: readonly Student[],
  lessons: readonly Lesson[],
  reading: Awaited<ReturnType<typeof listSectionReading>>,
): Progress {
  const of = (student: Student, lesson: Lesson) =>
    reading.get(readingKey(student.id, lesson.slug)) ?? { ...UNREAD, right: 0 };
  const questions = lessons.reduce((sum, lesson) => sum + lesson.questions.length, 0);
  return {
    lessons: lessons.length,
    byLesson: lessons.map((lesson) => {
      const all = students.map((student) => of(student, lesson));
      const asked = all.length * lesson.questions.length;
      return {
        slug: lesson.slug,
        title: lesson.head.title,
        opened: all.filter(({ openedAt }) => openedAt !== null).length,
        read: all.filter(({ readAt }) => readAt !== null).length,
        right: asked === 0 ? null : all.reduce((sum, { right }) => sum + right, 0) / asked,
      };
    }),
    byStudent: students.map((student) => {
      const all = lessons.map((lesson) => ({ lesson, ...of(student, lesson) }));
      return {
        id: student.id,
        name: `${student.family_name}, ${student.given_name}`,
        read: all.filter(({ readAt }) => readAt !== null).length,
        begun: all.filter(({ readAt, openedAt }) => readAt === null && openedAt !== null).length,
        right: all.reduce((sum, { right }) => sum + right, 0),
        questions,
        next: all.find(({ readAt }) => readAt === null)?.lesson.head.title ?? null,
      };
    }),
  };
}
