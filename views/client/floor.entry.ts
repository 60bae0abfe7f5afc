import { need } from './elements/need.ts';
import { changedRows } from './models/floor-rows.ts';

/** The floor: the server says that something changed, this page asks for the rows and swaps those that differ. */
function start(): void {
  const floor = document.querySelector<HTMLElement>('#floor');
  if (floor === null) return;
  const connection = need<HTMLElement>(document, '#floor-connection');
  const news = need<HTMLElement>(document, '#floor-news');
  const events = new EventSource(floor.dataset.events ?? '');
  let asking = false;
  let again = false;

  async function refresh(): Promise<void> {
    if (asking) {
      again = true;
      return;
    }
    asking = true;
    do {
      again = false;
      const answer = await fetch(floor?.dataset.rows ?? '', { headers: { accept: 'text/html' } }).catch(
        () => null,
      );
      if (answer?.ok) show(await answer.text());
    } while (again);
    asking = false;
  }

  function show(html: string): void {
    const next = new DOMParser().parseFromString(html, 'text/html');
    const list = need<HTMLElement>(document, '#floor-rows');
    const needed = new Set([...list.querySelectorAll('.floor-needs')].map(({ id }) => id));
    need<HTMLElement>(document, '#floor-counts').replaceWith(need(next, '#floor-counts'));
    const rows = [...next.querySelectorAll<HTMLElement>('.floor-row')];
    for (const { id, isNew } of changedRows(textsOf(list), textsOf(next))) {
      const row = rows.find((one) => one.id === id);
      if (row === undefined) continue;
      const focused = document.activeElement?.closest('.floor-row')?.id === id;
      if (isNew) list.append(row);
      else need<HTMLElement>(list, `#${id}`).replaceWith(row);
      if (focused) row.querySelector<HTMLElement>('a')?.focus();
    }
    // Rows that stand where they should are not touched: moving one takes the focus out of it.
    rows.forEach(({ id }, index) => {
      const row = list.querySelector(`#${id}`);
      if (row !== null && list.children[index] !== row) list.insertBefore(row, list.children[index] ?? null);
    });
    const fresh = [...list.querySelectorAll<HTMLElement>('.floor-needs')].filter(({ id }) => !needed.has(id));
    if (fresh.length > 0)
      news.textContent = fresh
        .map(
          (row) =>
            `${row.querySelector('b')?.textContent}: ${row.querySelector('.floor-state')?.textContent?.trim()}`,
        )
        .join('. ');
  }

  events.addEventListener('changed', () => void refresh());
  events.addEventListener('open', () => {
    connection.textContent = 'Live.';
  });
  events.addEventListener('error', () => {
    connection.textContent = 'No connection. It comes back by itself; what stands here may be old.';
  });
  // Minutes go on while nobody does anything.
  setInterval(() => void refresh(), 30_000);
}

function textsOf(root: ParentNode): { readonly id: string; readonly text: string }[] {
  return [...root.querySelectorAll<HTMLElement>('.floor-row')].map((row) => ({
    id: row.id,
    text: row.outerHTML.replace(/value="[^"]*"/g, ''),
  }));
}

start();
