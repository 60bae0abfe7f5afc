import { createHash } from 'node:crypto';
import type { Kysely } from 'kysely';
import { ZipFile } from 'yazl';
import type { Database } from '../database/tables.ts';
import { listGradedOfStudent } from '../review/index.ts';
import { getSignOff, listSignOffsOf } from '../sign-offs/index.ts';
import { shownTranscript, type TranscriptContent } from '../transcripts/index.ts';
import { newPdf } from '../web/pdf.ts';
import { timeWords } from '../web/words/index.ts';
import { studentHours } from './hours.ts';

/** Draws so many at random; the same word draws the same again, so that the draw can be shown to have been one. */
export function sampleOf<T extends { readonly uuid: string }>(
  all: readonly T[],
  count: number,
  word: string,
): readonly T[] {
  const rank = ({ uuid }: T) => createHash('sha256').update(`${word} ${uuid}`).digest('hex');
  return all
    .map((one) => ({ one, rank: rank(one) }))
    .sort((first, second) => (first.rank < second.rank ? -1 : 1))
    .slice(0, count)
    .map(({ one }) => one);
}

export interface SampledStudent {
  readonly id: number;
  readonly uuid: string;
  readonly name: string;
  readonly number: string;
}

/** One student's own work as a PDF: where they stand, every graded run, every sign-off with its steps. The caller has made sure that it is theirs to see. */
export async function studentPdf(
  db: Kysely<Database>,
  student: SampledStudent,
  content: TranscriptContent,
): Promise<Buffer> {
  const { asOf } = content;
  const name = { given: student.name, family: '', number: student.number };
  const shown = shownTranscript({
    ...{ code: '', studentId: student.id, name, content, issuedAt: content.issuedAt, withdrawn: null },
  });
  const pdf = newPdf({
    ...{ title: `Work of ${student.name}`, at: content.issuedAt },
    foot: `Work of ${student.name}, ${student.number}, as of ${shown.asOfWords}`,
  });
  const hours = await studentHours(db, student.id, asOf);
  pdf.heading(`Work of ${student.name}`);
  pdf.facts([
    ['Student number', student.number],
    ['Program', content.program],
    ['As of', shown.asOfWords],
    ['Hours on practice engines', `${hours.toFixed(1)}; pauses over three minutes are not counted`],
  ]);
  pdf.heading('Competencies', 2);
  if (shown.lines.length === 0) pdf.para('None begun.');
  for (const line of shown.lines) {
    pdf.para(`${line.title}, ${line.code}: ${line.words}${line.dates === '' ? '' : `, ${line.dates}`}`, {
      bold: true,
    });
    pdf.para(`By version ${line.ruleVersion ?? ''} of the rule: ${line.rule}`, { quiet: true });
    if (line.evidence.length > 0)
      pdf.table(
        ['Evidence', 'What', 'When', 'Result', 'By whom, with what'],
        [14, 26, 18, 12, 30],
        line.evidence.map((one) => [one.kind, `${one.what}; ${one.section}`, one.when, one.result, one.by]),
      );
  }
  pdf.heading('Every graded run handed in, on practice engines', 2);
  const runs = (await listGradedOfStudent(db, student.id)).filter(
    ({ handedInAt }) => (handedInAt ?? '') <= asOf,
  );
  if (runs.length === 0) pdf.para('None.');
  else
    pdf.table(
      ['What', 'Section', 'Try', 'Handed in', 'Points', 'Stops', 'Points changed'],
      [26, 26, 6, 20, 8, 7, 9],
      runs.map((run) => [
        ...[run.itemTitle, `${run.sectionName}, ${run.term}`, String(run.tryNumber)],
        ...[timeWords(run.handedInAt ?? ''), run.points?.toFixed(1) ?? '', String(run.stops)],
        run.changed ? 'yes' : 'no',
      ]),
    );
  pdf.heading('Work on shop engines', 2);
  const ids = await listSignOffsOf(db, student.id, asOf);
  if (ids.length === 0) pdf.para('None.');
  for (const id of ids) {
    const one = await getSignOff(db, id);
    const result = one.signed === null ? 'not signed yet' : one.signed.passed ? 'passed' : 'not passed';
    pdf.para(`${one.itemTitle}, begun ${timeWords(one.startedAt)}: ${result}`, { bold: true });
    pdf.facts([
      ['Engine', `${one.engine.number}, ${one.engine.name}, pump position ${one.position}`],
      ['Indicator', one.gauge === null ? '' : `${one.gauge.number}, check due ${one.gauge.dueOn ?? 'never'}`],
      [
        'Torque wrench',
        one.wrench === null ? '' : `${one.wrench.number}, check due ${one.wrench.dueOn ?? 'never'}`,
      ],
      ['Lift read', one.typed.lift ? `${one.typed.lift} ${one.engine.unit}` : ''],
      ['Signed', one.signatures.map(({ role, name: who }) => `${role}: ${who}`).join('; ')],
    ]);
    pdf.table(
      ['No.', 'Step', 'Assessor', 'Note'],
      [6, 54, 18, 22],
      one.steps.map((step, index) => [
        String(index + 1),
        step.text,
        step.state === null ? 'nothing put down' : step.state.replaceAll('-', ' '),
        step.note,
      ]),
    );
  }
  return pdf.end();
}

/** Files as one zip. `at` is the time written into it. */
export function folderOf(files: readonly (readonly [string, Buffer])[], at: Date): Promise<Buffer> {
  const zip = new ZipFile();
  for (const [name, bytes] of files) zip.addBuffer(bytes, name, { mtime: at });
  zip.end();
  return new Promise((resolve, reject) => {
    const parts: Buffer[] = [];
    zip.outputStream.on('data', (part: Buffer) => parts.push(part));
    zip.outputStream.on('error', reject);
    zip.outputStream.on('end', () => resolve(Buffer.concat(parts)));
  });
}
