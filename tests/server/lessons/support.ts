import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Lesson, loadLessons } from '../../../server/lessons/load.ts';

export const HEAD = `title: A lesson
order: 10
practise: drills
aims: [Read a dial]
minutes: 5
before: []
competencies: [IC-LIFT]
cautions: true
sources:
  - what: All of it
    from: common practice, no source
`;

export const QUESTIONS = `- id: one
  ask: One?
  right: "yes"
  choices:
    - key: "yes"
      text: Yes
      feedback: Right, it is.
    - key: "no"
      text: No
      feedback: No, it is not.
`;

/** Loads one lesson written to a folder of its own, called `sample`. */
export function loadSample(parts: { head?: string; body?: string; questions?: string }): Lesson {
  const folder = mkdtempSync(join(tmpdir(), 'dialbench-lesson-'));
  try {
    mkdirSync(join(folder, 'sample'));
    const text = `---\n${parts.head ?? HEAD}---\n${parts.body ?? 'Words.\n'}`;
    writeFileSync(join(folder, 'sample', 'lesson.md'), text);
    writeFileSync(join(folder, 'sample', 'questions.yaml'), parts.questions ?? QUESTIONS);
    const [lesson] = loadLessons(folder);
    if (!lesson) throw new Error('the sample was not loaded');
    return lesson;
  } finally {
    rmSync(folder, { recursive: true });
  }
}
