import { generatePassword, hashPassword, setPassword } from '../accounts/index.ts';
import type { Store } from '../database/open.ts';
import { writeTransaction } from '../database/transaction.ts';
import type { Actor } from '../web/actor.ts';
import { Conflict } from '../web/errors.ts';
import { getTaughtStudent, listRoster, type RosterStudent } from './queries.ts';

/** A password as it is shown, this once. */
export interface GivenPassword {
  readonly student: RosterStudent;
  readonly password: string;
}

/** Gives a password to everybody on the roster who has none and may be given one by this instructor. */
export async function giveFirstPasswords(
  store: Store,
  actor: Actor,
  sectionId: number,
): Promise<GivenPassword[]> {
  const roster = await listRoster(store.db, actor, sectionId);
  const students = roster.filter((student) => student.password === 'none' && student.mayGivePassword);
  return give(store, actor, sectionId, students, false);
}

/**
 * Gives one student a new first password and ends the student's sessions. A password of the student's own is only
 * replaced with `reset`. Throws NotFound, or Conflict when this instructor may not.
 */
export async function giveFirstPassword(
  store: Store,
  actor: Actor,
  sectionId: number,
  studentId: number,
  reset: boolean,
): Promise<GivenPassword[]> {
  const student = await getTaughtStudent(store.db, actor, sectionId, studentId);
  refuseUnlessAllowed(student, reset);
  return give(store, actor, sectionId, [student], reset);
}

function refuseUnlessAllowed(student: RosterStudent, reset: boolean): void {
  if (!student.mayGivePassword) {
    throw new Conflict(
      'This student is also in a section of another instructor, so you cannot give a password. Ask who runs this server.',
    );
  }
  if (student.password === 'own' && !reset) {
    throw new Conflict(
      'This student has chosen a password of their own. Reset it only when the student asks you to.',
    );
  }
}

async function give(
  store: Store,
  actor: Actor,
  sectionId: number,
  students: readonly RosterStudent[],
  reset: boolean,
): Promise<GivenPassword[]> {
  // Hashed before the transaction opens: nothing else may wait for it.
  const made = await Promise.all(
    students.map(async (student) => {
      const password = generatePassword();
      return { student, password, hash: await hashPassword(password) };
    }),
  );
  await writeTransaction(store, async (trx) => {
    for (const { student, hash } of made) {
      // Read again: the student may have chosen a password meanwhile.
      const now = await getTaughtStudent(trx, actor, sectionId, student.id);
      refuseUnlessAllowed(now, reset);
      await setPassword(trx, student.id, { hash, mustChange: true });
    }
  });
  return made.map(({ student, password }) => ({ student, password }));
}
