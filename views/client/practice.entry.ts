import { BenchControls, type SentAction } from './elements/bench-controls.ts';
import { BenchScreen, need, type SeenAction } from './elements/bench-screen.ts';
import { defineDialFace } from './elements/dial-element.ts';
import { SheetForm } from './elements/sheet-form.ts';
import { ActionQueue, type BatchAnswer, stillUnsaved } from './models/action-queue.ts';
import { keptIn } from './models/kept.ts';
import { postJson } from './models/talk.ts';

/** The practice engine's page: the server folds what is done, this page shows what a person standing there would see. */
function start(): void {
  defineDialFace();
  const root = need<HTMLElement>(document, '#bench');
  const attemptId = root.dataset.attempt ?? '';
  const csrf = root.dataset.csrf ?? '';
  const next = Number(root.dataset.next ?? 0);
  const saveState = need<HTMLElement>(root, '#save-state');
  const kept = keptIn<{ from: number; actions: readonly SentAction[] }>(`dialbench:${attemptId}:actions`);

  const tell = (state: 'saved' | 'saving' | 'away' | 'refused', message?: string) => {
    const words = {
      saved: 'Saved.',
      // Said only by the eye: a word that changes at every step would be read out at every step.
      saving: saveState.textContent ?? '',
      away: 'No connection: not saved yet. Keep this page open; it tries again by itself.',
      refused: message ?? 'This was not taken. Reload the page.',
    };
    if (saveState.textContent !== words[state]) saveState.textContent = words[state];
    saveState.dataset.state = state;
  };

  const queue = new ActionQueue<SentAction, SeenAction>(next, {
    send: (from, actions) =>
      postJson<BatchAnswer<SeenAction>>(`/attempts/${attemptId}/actions`, csrf, { from, actions }),
    keep: (unsaved) => kept.write(unsaved),
    wait: (milliseconds) => new Promise((resolve) => window.setTimeout(resolve, milliseconds)),
    tell,
  });

  const screen = new BenchScreen(root);
  const controls = new BenchControls(root, queue, screen, showWhere);
  const sheet = new SheetForm(need<HTMLFormElement>(root, '#sheet'), {
    attemptId,
    csrf,
    wrote: (position, reading, box) => controls.note({ type: 'note', position, reading, box }),
    settled: async () => {
      await controls.still();
      while (!queue.idle) await new Promise((resolve) => window.setTimeout(resolve, 50));
    },
    tell,
  });

  let shown = root.dataset.position ?? '';
  if (shown !== '' && document.querySelector('.has-problem') === null) sheet.show(Number(shown));

  /** Buttons that say how the bench stands, and the boxes of the lobe one has moved to. */
  function showWhere({ now }: SeenAction): void {
    for (const button of root.querySelectorAll<HTMLButtonElement>('[data-act="move"]')) {
      button.setAttribute('aria-pressed', String(button.dataset.value === String(now.position)));
    }
    need<HTMLElement>(root, '#clamp').textContent = now.clamped ? 'Free the bezel' : 'Clamp the bezel';
    const position = now.position === null ? '' : String(now.position);
    if (position !== shown && position !== '') sheet.show(Number(position));
    shown = position;
  }

  // What was done while the server was away, before a reload, is done now.
  const unsaved = stillUnsaved(kept.read(), next);
  kept.write(null);
  for (const action of unsaved) {
    queue
      .do(action)
      .then((seen) => screen.play(seen, 100).then(() => showWhere(seen)))
      .catch(() => undefined);
  }
}

start();
