import type { SendResult } from './action-queue.ts';

/** Posts JSON with the page's token. Never throws: no answer at all is `away`, and so is a server that is down behind its proxy. */
export async function postJson<Answer>(
  url: string,
  csrf: string,
  body: unknown,
): Promise<SendAnswer<Answer>> {
  try {
    const response = await fetch(url, {
      method: 'POST',
      headers: { accept: 'application/json', 'content-type': 'application/json', 'x-csrf-token': csrf },
      body: JSON.stringify(body),
    });
    if (response.ok) return { how: 'done', answer: (await response.json()) as Answer };
    if (response.status >= 500 || response.status === 429) return { how: 'away' };
    const said = (await response.json().catch(() => null)) as { error?: { message?: string } } | null;
    return {
      how: 'refused',
      message: said?.error?.message ?? 'The server did not take this. Reload the page.',
    };
  } catch {
    return { how: 'away' };
  }
}

export type SendAnswer<Answer> =
  | { readonly how: 'done'; readonly answer: Answer }
  | Exclude<SendResult<never>, { readonly how: 'done' }>;
