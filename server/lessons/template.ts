/** What a lesson may write between double braces: a name, a word or two, and `key=value` pairs. */
export interface Call {
  readonly name: string;
  readonly words: readonly string[];
  readonly given: Readonly<Record<string, string>>;
}

/** Something between double braces that cannot be resolved; the message ends a sentence that begins with the file. */
export class TemplateProblem extends Error {}

const BRACES = /\{\{([^{}]*)\}\}/g;
const PART = /\s*(?:([A-Za-z][\w-]*)=(?:"([^"]*)"|(\S+))|([^\s"=]+))/y;

/**
 * Replaces each `{{name word key=value key="more words"}}` by what `resolve` gives for it, before Markdown is read.
 * @throws TemplateProblem for braces that cannot be read, and whatever `resolve` throws.
 */
export function fillTemplate(text: string, resolve: (call: Call) => string): string {
  const filled = text.replace(BRACES, (_, inside: string) => resolve(readCall(inside)));
  if (/\{\{|\}\}/.test(text.replace(BRACES, '')))
    throw new TemplateProblem('holds double braces that are never closed');
  return filled;
}

function readCall(inside: string): Call {
  const text = inside.trim();
  const words: string[] = [];
  const given: Record<string, string> = {};
  PART.lastIndex = 0;
  while (PART.lastIndex < text.length) {
    const part = PART.exec(text);
    if (!part) throw new TemplateProblem(`holds "{{${inside}}}", which cannot be read`);
    const [, key, quoted, plain, word] = part;
    if (key !== undefined) given[key] = quoted ?? plain ?? '';
    else if (word !== undefined) words.push(word);
  }
  const [name, ...rest] = words;
  if (name === undefined) throw new TemplateProblem('holds empty double braces');
  return { name, words: rest, given };
}

/** What a call gives under a key. @throws TemplateProblem when it is left out. */
export function textOf(call: Call, key: string): string {
  const text = call.given[key];
  if (text === undefined) throw new TemplateProblem(`holds {{${call.name}}} without ${key}`);
  return text;
}

/** The same as a number. @throws TemplateProblem when it is none. */
export function numberOf(call: Call, key: string, otherwise?: number): number {
  if (otherwise !== undefined && call.given[key] === undefined) return otherwise;
  const text = textOf(call, key);
  const value = Number(text);
  if (text === '' || !Number.isFinite(value))
    throw new TemplateProblem(`holds {{${call.name} ${key}=${text}}}, where ${key} is not a number`);
  return value;
}

/** The same as one of a few words. @throws TemplateProblem when it is another. */
export function oneOf<T extends string>(call: Call, key: string, allowed: readonly T[], otherwise?: T): T {
  if (otherwise !== undefined && call.given[key] === undefined) return otherwise;
  const text = textOf(call, key);
  const found = allowed.find((one) => one === text);
  if (found === undefined)
    throw new TemplateProblem(
      `holds {{${call.name} ${key}=${text}}}, where ${key} must be one of ${allowed.join(', ')}`,
    );
  return found;
}
