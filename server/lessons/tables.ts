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
}
