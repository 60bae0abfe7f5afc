import { explainReading, parseLength } from '../engine/index.ts';
import { drawFrom } from './chance.ts';
import type { Answer, Drawn } from './draw-kit.ts';
import { drawNumbers } from './draws.ts';
import { renderInline } from './markdown.ts';
import { explainWrong, workedSum } from './mistake-words.ts';
import type { AnsweredView, ChoiceQuestion, Question, QuestionFormView } from './schema.ts';
import { fillTemplate, TemplateProblem } from './template.ts';
import { writeLength } from './worked-kit.ts';

/** One asking of a question: whose it is and the how-manieth. Its numbers follow from that and nothing else. */
export interface Asking {
  readonly slug: string;
  readonly personId: number;
  readonly tries: number;
}

/** What an answer came to, or what must be put right before it counts. */
export type Answered =
  | { readonly ok: true; readonly correct: boolean; readonly feedbackHtml: string }
  | { readonly ok: false; readonly problem: string };

function numbersFor(question: Question, { slug, personId, tries }: Asking): Drawn {
  return drawNumbers(question.draw, `${personId}/${slug}/${question.id}/${tries}`);
}

/** The form of one asking. Nothing in it says which answer is right. */
export function askQuestion(
  question: Question,
  asking: Asking,
  typed = '',
  problem?: string,
): QuestionFormView {
  const drawn = numbersFor(question, asking);
  const choices =
    'choices' in question
      ? inDrawnOrder(question, asking).map(({ key, text }) => ({
          key,
          html: renderInline(fill(text, drawn)),
        }))
      : null;
  return {
    askHtml: renderInline(fill(question.ask, drawn)),
    tries: asking.tries,
    choices,
    box:
      'choices' in question
        ? null
        : {
            label: question.label,
            hint: question.hint,
            unit: drawn.reading?.dial.unit ?? drawn.answer?.unit ?? '',
          },
    typed,
    problem,
  };
}

/** The choices of one asking, in an order of its own: where the right one stands says nothing. */
function inDrawnOrder({ id, choices }: ChoiceQuestion, { slug, personId, tries }: Asking) {
  const draw = drawFrom(`${personId}/${slug}/${id}/${tries}/order`);
  const left = [...choices];
  return choices.flatMap(() => left.splice(draw.whole(0, left.length - 1), 1));
}

/** Reads and judges an answer against the numbers of that asking. */
export function gradeAnswer(question: Question, asking: Asking, answer: string): Answered {
  const drawn = numbersFor(question, asking);
  return 'choices' in question ? gradeChoice(question, drawn, answer) : gradeNumber(drawn, answer);
}

/** An answer given before, with the numbers it was given to and what came of it. */
export function recallAnswer(
  question: Question,
  asking: Asking,
  answer: string,
  correct: boolean,
): AnsweredView {
  const drawn = numbersFor(question, asking);
  const graded = gradeAnswer(question, asking, answer);
  const chosen = 'choices' in question ? question.choices.find(({ key }) => key === answer)?.text : undefined;
  return {
    askHtml: renderInline(fill(question.ask, drawn)),
    answer: chosen === undefined ? answer : fill(chosen, drawn).replace(/[*`]/g, ''),
    correct,
    feedbackHtml: graded.ok ? graded.feedbackHtml : '',
  };
}

function gradeChoice(
  question: Extract<Question, { choices: unknown }>,
  drawn: Drawn,
  answer: string,
): Answered {
  const chosen = question.choices.find(({ key }) => key === answer);
  if (!chosen) return { ok: false, problem: 'Choose one of the answers.' };
  const correct = chosen.key === fill(question.right, drawn);
  return { ok: true, correct, feedbackHtml: renderInline(fill(chosen.feedback, drawn)) };
}

function gradeNumber({ reading, answer: right }: Drawn, answer: string): Answered {
  if (right) return gradePlain(right, answer);
  if (!reading) throw new Error('a number question was asked without anything to judge it by');
  const { dial, shown } = reading;
  const parsed = parseLength(answer, dial.unit, dial.travel);
  if (!parsed.ok) return { ok: false, problem: whatToWrite(parsed, dial.unit, dial.travel) };
  if (parsed.value === null) return { ok: false, problem: 'Write the lift.' };
  const likely = explainReading(dial, shown, { lift: parsed.value });
  const sum = workedSum(dial, shown.high);
  if (likely.length === 0) return { ok: true, correct: true, feedbackHtml: renderInline(sum) };
  const why = explainWrong(dial, shown, parsed.value, likely);
  return { ok: true, correct: false, feedbackHtml: renderInline(`${why} The gauge showed ${sum}`) };
}

/** A number that is worked out: right within its tolerance; otherwise the slip that leads there, where one is known. */
function gradePlain({ value, unit, within, slips, sum }: Answer, answer: string): Answered {
  const text = answer
    .trim()
    .replace(/[−–]/g, '-')
    .replace(/^(-?\d+),(\d+)$/, '$1.$2');
  const found = /^([+-]?(?:\d+\.?\d*|\.\d+))\s*(.*)$/.exec(text);
  if (found === null) return { ok: false, problem: 'That is not a number. Write it like 12.5.' };
  const [, number = '', written = ''] = found;
  if (written !== '' && unitKey(written) !== unitKey(unit))
    return {
      ok: false,
      problem: unit === '' ? 'Write the number alone.' : `The answer is in ${UNIT_WORDS[unit] ?? unit}.`,
    };
  const off = (other: number) => Math.abs(Number(number) - other);
  if (off(value) <= within) return { ok: true, correct: true, feedbackHtml: renderInline(sum) };
  const slip = slips.find((one) => off(one.value) <= within);
  return {
    ok: true,
    correct: false,
    feedbackHtml: renderInline(slip === undefined ? sum : `${slip.why} ${sum}`),
  };
}

/** A unit as a hurried thumb may write it: without signs, points and spaces, a word for a sign. */
function unitKey(unit: string): string {
  const plain = unit
    .toLowerCase()
    .replaceAll('°', 'deg')
    .replaceAll('³', '3')
    .replaceAll(/[·⋅*\s.\-/"]/g, '');
  return (
    { degrees: 'deg', degree: 'deg', inch: 'in', inches: 'in', ftlb: 'lbfft', lbft: 'lbfft', ftlbf: 'lbfft' }[
      plain
    ] ?? plain
  );
}

const UNIT_WORDS: Readonly<Record<string, string>> = { in: 'inches', mm: 'millimetres', '°': 'degrees' };

function whatToWrite(
  parsed: { why: string; meant: number | null },
  unit: 'in' | 'mm',
  travel: number,
): string {
  if (parsed.meant !== null) return `Do you mean ${trimmed(parsed.meant, unit)} ${unit}? Write it so.`;
  const example = unit === 'in' ? '0.237 in or 237 thou' : '5.43 mm';
  if (parsed.why === 'implausible')
    return `The gauge has only ${travel} ${unit} of travel. Look at the decimal point.`;
  return `That is not a length. Write it like ${example}.`;
}

/** As many decimals as were meant, and no fewer than a reading has. */
function trimmed(value: number, unit: 'in' | 'mm'): string {
  const usual = writeLength(value, unit);
  return Number(usual) === value ? usual : String(value);
}

function fill(text: string, drawn: Drawn): string {
  return fillTemplate(text, ({ name }) => {
    const value = Object.hasOwn(drawn.values, name) ? drawn.values[name] : undefined;
    if (value === undefined) throw new TemplateProblem(`holds {{${name}}}, which its draw does not give`);
    return value;
  });
}

/** Enough different seeds to meet every outcome a draw can have. */
const SEEDS_CHECKED = 24;

/** Asks a question with many seeds and looks at every text it can show. @throws TemplateProblem saying what is wrong, or RangeError. */
export function checkQuestion(question: Question): void {
  for (let tries = 0; tries < SEEDS_CHECKED; tries += 1) {
    const asking = { slug: 'check', personId: 0, tries };
    const drawn = numbersFor(question, asking);
    askQuestion(question, asking);
    if (!('choices' in question)) {
      if (!drawn.reading && !drawn.answer)
        throw new TemplateProblem('asks for a number, but its draw gives none');
      continue;
    }
    const keys = question.choices.map(({ key }) => key);
    if (new Set(keys).size !== keys.length) throw new TemplateProblem('has two choices with one key');
    const right = fill(question.right, drawn);
    if (!keys.includes(right))
      throw new TemplateProblem(`is right at "${right}", which is none of its choices`);
    for (const { feedback } of question.choices) fill(feedback, drawn);
  }
}
