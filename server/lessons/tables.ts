import type { Generated } from 'kysely';

export interface LessonsTables {
  lesson_answers: {
    id: Generated<number>;
    person_id: number;
    lesson_slug: string;
    question_id: string;
    answer: string;
    correct: number;
    at: string;
  };
  lesson_reads: {
    person_id: number;
    lesson_key: string;
    what: 'opened' | 'read';
    at: string;
  };
  section_lessons: {
    section_id: number;
    lesson_key: string;
    ordinal: number;
    hidden: number;
    release_on: string | null;
  };
  own_lessons: {
    id: Generated<number>;
    made_by: number;
    based_on: string | null;
    at: string;
  };
  own_lesson_versions: {
    id: Generated<number>;
    own_lesson_id: number;
    title: string;
    minutes: number;
    aims: string;
    body: string;
    sources: string;
    cautions: number;
    at: string;
  };
  lesson_images: {
    id: string;
    own_lesson_id: number;
    name: string;
    type: 'image/png' | 'image/jpeg' | 'image/webp';
    bytes: Buffer;
    at: string;
  };
}
