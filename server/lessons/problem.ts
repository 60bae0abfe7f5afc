import { ConfigProblem } from '../config.ts';

/**
 * A lesson that cannot be shown as it stands in its folder: one plain sentence naming the file and the field. What whoever starts the
 * server can put right, so it stops the start the way a wrong setting does.
 */
export class LessonProblem extends ConfigProblem {
  constructor(file: string, field: string, what: string) {
    super(`${file}: ${field} ${what}`);
  }
}
