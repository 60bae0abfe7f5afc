import { bore, boreEye } from './bore-students.ts';
import { countNamings, erringEye, rightEye, shareNamed } from './gauged-count.ts';
import { eyed, JOBS, misreads } from './gauged-students.ts';

const STUDENTS = 1_000;
const percent = (share: number) => `${(100 * share).toFixed(1)} %`.padStart(8);

/** The priors were settled on the first two sets of students; the third was looked at once, after that. */
const SETS = ['student', 'held out', 'third'] as const;

/** Students who misread jobs with a gauge on a stand in a known way; with everything on the sheet. */
export function otherKinds(): void {
  console.log(`\nThe other kinds, everything on the sheet: ${STUDENTS} students a kind`);
  console.log('                              named  or among   right eye  careless eye');
  console.log('                            (92 %)    (98 %)    (0 %)      (1.5 %)');
  for (const set of SETS) {
    for (const job of JOBS)
      row(
        `${job}, ${set}`,
        (seed) => misreads(job, seed),
        (seed, eye) => eyed(job, seed, eye),
        set,
      );
    row(`bore-gauge, ${set}`, bore, boreEye, set);
  }
}

function row(
  name: string,
  student: (seed: string) => ReturnType<typeof bore>,
  withEye: (seed: string, eye: typeof rightEye) => ReturnType<typeof boreEye>,
  set: string,
): void {
  const { named, amongThem } = countNamings(
    Array.from({ length: STUDENTS }, (_, index) => student(`${set} ${index}`)),
  );
  const share = (eye: typeof rightEye) =>
    percent(shareNamed(STUDENTS, (seed) => withEye(`${set} ${seed}`, eye)));
  console.log(
    `  ${name.padEnd(26)}${percent(named)}${percent(amongThem)}${share(rightEye)}${share(erringEye(1.5))}`,
  );
}
