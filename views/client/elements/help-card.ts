import { postJson } from '../models/talk.ts';

interface HelpAnswer {
  readonly head: string;
  readonly lines: readonly { readonly place: string; readonly seen: string; readonly why: string }[];
}

export interface HelpParts {
  readonly attemptId: string;
  readonly csrf: string;
  /** Resolves when everything done at the bench is saved. */
  settled(): Promise<void>;
  /** What stands in the boxes now. */
  typed(): Readonly<Record<string, string>>;
}

/** The buttons of the help card: asks with what is typed, and puts the answer under them. A graded run has no such card. */
export function wireHelp(root: HTMLElement, parts: HelpParts): void {
  const place = root.querySelector<HTMLElement>('#help-answer');
  if (place === null) return;
  let asking = false;
  for (const button of root.querySelectorAll<HTMLButtonElement>('[data-help]')) {
    button.addEventListener('click', (event) => {
      event.preventDefault();
      // A button that is disabled loses the keyboard's place: a second press is passed over instead.
      if (asking) return;
      asking = true;
      void ask(button.dataset.help ?? 'check', place, parts).finally(() => {
        asking = false;
      });
    });
  }
}

async function ask(what: string, place: HTMLElement, parts: HelpParts): Promise<void> {
  await parts.settled();
  const result = await postJson<HelpAnswer>(`/attempts/${parts.attemptId}/${what}`, parts.csrf, {
    typed: parts.typed(),
  });
  if (result.how === 'done') return show(place, result.answer);
  const sentence = result.how === 'away' ? 'No connection. Ask again in a moment.' : result.message;
  show(place, { head: sentence, lines: [] });
}

function show(place: HTMLElement, { head, lines }: HelpAnswer): void {
  const paragraphs = lines.map((line) => {
    const paragraph = document.createElement('p');
    if (line.place !== '') paragraph.append(bold(`${line.place}:`), ' ');
    const why = document.createElement('span');
    why.className = 'quiet';
    why.textContent = line.why;
    paragraph.append(`${line.seen} `, why);
    return paragraph;
  });
  const first = document.createElement('p');
  first.append(bold(head));
  place.replaceChildren(first, ...paragraphs);
  // On a phone the bar at the thumb would lie over it.
  place.scrollIntoView({ block: 'nearest' });
}

function bold(text: string): HTMLElement {
  const element = document.createElement('b');
  element.textContent = text;
  return element;
}
