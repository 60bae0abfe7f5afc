import { newPdf } from '../web/pdf.ts';
import { codeWords } from '../web/short-code.ts';
import type { Transcript } from './queries.ts';
import { shownTranscript } from './shown.ts';

/** A transcript to be printed or sent. `verifyAt` is where its code can be looked up. */
export async function transcriptPdf(transcript: Transcript, verifyAt: string): Promise<Buffer> {
  const shown = shownTranscript(transcript);
  const code = codeWords(transcript.code);
  const pdf = newPdf({
    ...{ title: `Transcript of ${shown.name}`, at: transcript.issuedAt },
    foot: `Transcript ${code}. Whether it is genuine: ${verifyAt}`,
  });
  pdf.heading('Transcript of competencies');
  pdf.facts([
    ['Student', shown.name],
    ['Student number', shown.number],
    ['Program', shown.program],
    ['As of', shown.asOfWords],
    ['Issued', shown.issuedWords],
    ['Code', code],
  ]);
  if (shown.withdrawn !== null)
    pdf.para(`Withdrawn on ${shown.withdrawn.when}: ${shown.withdrawn.reason}`, { bold: true });
  pdf.para(
    'Work on a practice engine was measured on a simulated engine and graded by the program that made it. Work on a shop engine was seen and signed by the assessor named. All times are UTC.',
    { quiet: true },
  );
  if (shown.lines.length === 0) pdf.para('Nothing is on record for any competency on this day.');
  for (const line of shown.lines) {
    pdf.heading(`${line.title}  ${line.code}`, 2);
    pdf.para(`${line.words}${line.dates === '' ? '' : `, ${line.dates}`}`, { bold: true });
    pdf.para(line.statement);
    pdf.para(`By version ${line.ruleVersion ?? ''} of the rule: ${line.rule}`, { quiet: true });
    if (line.evidence.length > 0)
      pdf.table(
        ['Evidence', 'What', 'When', 'Result', 'By whom, with what'],
        [14, 26, 18, 12, 30],
        line.evidence.map((one) => [one.kind, `${one.what}; ${one.section}`, one.when, one.result, one.by]),
      );
    pdf.para(line.triesWords, { quiet: true });
  }
  return pdf.end();
}
