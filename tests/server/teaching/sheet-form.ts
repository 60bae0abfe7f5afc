import type { Agent } from '../../support/agent.ts';

/** The fields of the form on a page, as a browser would send them back. */
export function fieldsOn(html: string): Record<string, string> {
  const fields: Record<string, string> = {};
  for (const [tag] of html.matchAll(/<input[^>]*>/g)) {
    const name = /\bname="([^"]*)"/.exec(tag)?.[1];
    if (name === undefined || /type="(file|submit)"/.test(tag)) continue;
    if (/type="(checkbox|radio)"/.test(tag) && !/\bchecked\b/.test(tag)) continue;
    fields[name] = unescaped(/\bvalue="([^"]*)"/.exec(tag)?.[1] ?? '');
  }
  for (const [, name = '', text = ''] of html.matchAll(
    /<textarea[^>]*\bname="([^"]*)"[^>]*>([\s\S]*?)<\/textarea>/g,
  ))
    fields[name] = unescaped(text);
  for (const [, name = '', inner = ''] of html.matchAll(
    /<select[^>]*\bname="([^"]*)"[^>]*>([\s\S]*?)<\/select>/g,
  )) {
    const options = [...inner.matchAll(/<option value="([^"]*)"( selected)?/g)];
    fields[name] = unescaped((options.find((one) => one[2]) ?? options[0])?.[1] ?? '');
  }
  return fields;
}

function unescaped(text: string): string {
  return text
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&quot;', '"')
    .replaceAll('&#39;', "'")
    .replaceAll('&amp;', '&');
}

/** Writes a new sheet as an instructor would, adding one item after the other. Answers with its id. */
export async function writeSheet(
  agent: Agent,
  title: string,
  items: readonly string[],
  settings: Readonly<Record<string, string>> = {},
): Promise<number> {
  let page = await agent.get('/lab-sheets/new');
  for (const add of items)
    page = await agent.post('/lab-sheets', { ...fieldsOn(page.body), title, add, do: 'add' });
  const kept = await agent.post('/lab-sheets', { ...fieldsOn(page.body), title, ...settings, do: 'keep' });
  const id = /^\/lab-sheets\/(\d+)\/preview/.exec(String(kept.headers.location))?.[1];
  if (id === undefined)
    throw new Error(`the sheet was not kept: ${kept.statusCode} ${problemsOn(kept.body)}`);
  return Number(id);
}

/** What a page says is to be put right. */
export function problemsOn(html: string): string {
  return [...html.matchAll(/<p class="field-problem"[^>]*>([^<]*)</g)].map(([, text]) => text).join(' / ');
}
