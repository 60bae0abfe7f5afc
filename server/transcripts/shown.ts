import { dayWords, timeWords } from '../web/words/index.ts';
import type { TranscriptEvidence, TranscriptLine } from './content.ts';
import type { Transcript } from './queries.ts';

/** A transcript in words, as every page and the printed form show it. */
export function shownTranscript({ name, content, issuedAt, withdrawn }: Transcript) {
  const isDayEnd = content.asOf.endsWith('T23:59:59.999Z');
  return {
    name: name === null ? 'name taken out of the record' : `${name.given} ${name.family}`,
    number: name?.number ?? '',
    program: content.program,
    asOfWords: isDayEnd ? `the end of ${dayWords(content.asOf.slice(0, 10))}` : timeWords(content.asOf),
    issuedWords: timeWords(issuedAt),
    withdrawn: withdrawn === null ? null : { reason: withdrawn.reason, when: timeWords(withdrawn.at) },
    lines: content.lines.map(shownLine),
  };
}

function shownLine(line: TranscriptLine) {
  const day = (at: string) => dayWords(at.slice(0, 10));
  return {
    ...line,
    words: line.words.charAt(0).toUpperCase() + line.words.slice(1),
    dates: [
      line.since === null ? '' : `since ${day(line.since)}`,
      line.until === null ? '' : `until ${day(line.until)}`,
    ]
      .filter((words) => words !== '')
      .join(', '),
    evidence: line.evidence.map(shownEvidence),
    triesWords:
      line.tries === 0
        ? 'No graded run on a practice engine was handed in.'
        : line.tries === 1
          ? 'One graded run on a practice engine was handed in, whether it counts or not.'
          : `${line.tries} graded runs on practice engines were handed in, those that do not count too.`,
  };
}

function shownEvidence(one: TranscriptEvidence) {
  const { kind, what, section } = one;
  const when = timeWords(one.at);
  if (one.kind === 'practice engine')
    return {
      ...{ kind, what, section, when, by: one.gradedBy },
      result: `${one.points.toFixed(1)} of ${one.outOf.toFixed(0)} points`,
    };
  const tool = (name: string, number: string, due: string) =>
    number === '' ? '' : `${name} ${number}${due === '' ? '' : `, check due ${dayWords(due)}`}`;
  return {
    ...{ kind, what, section, when, result: 'passed' },
    by: [
      `${one.assessor} (${one.assessorStanding}${one.countersignedBy === '' ? '' : ` by ${one.countersignedBy}`})`,
      tool('indicator', one.gauge, one.gaugeCheckDue),
      tool('torque wrench', one.wrench, one.wrenchCheckDue),
    ]
      .filter((words) => words !== '')
      .join('; '),
  };
}
