import { BenchControls } from './elements/bench-controls.ts';
import { BenchScreen, type SeenAction } from './elements/bench-screen.ts';
import { BenchSound } from './elements/bench-sound.ts';
import { showList } from './elements/choose-list.ts';
import { defineDialFace } from './elements/dial-element.ts';
import { wireHelp } from './elements/help-card.ts';
import { need } from './elements/need.ts';
import { SheetForm } from './elements/sheet-form.ts';
import { type BenchData, WorkScene } from './elements/work-scene.ts';
import { ActionQueue, type BatchAnswer, stillUnsaved } from './models/action-queue.ts';
import { keptIn } from './models/kept.ts';
import type { SentAction } from './models/sent-action.ts';
import { postJson } from './models/talk.ts';

/** The page of a practice engine, or of another job: the server folds what is done, this page shows what a person standing there would see. */
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

  const data = JSON.parse(need<HTMLElement>(document, '#bench-data').textContent ?? '{}') as BenchData;
  const screen = new BenchScreen(
    root,
    new WorkScene(root.querySelector<HTMLElement>('#scene-place'), data),
    new BenchSound(root.querySelector<HTMLButtonElement>('#hear')),
  );
  const controls = new BenchControls(root, queue, screen, showWhere);
  const settled = async () => {
    await controls.still();
    while (!queue.idle) await new Promise((resolve) => window.setTimeout(resolve, 50));
  };
  const sheet = new SheetForm(need<HTMLFormElement>(root, '#sheet'), {
    attemptId,
    csrf,
    wrote: (note) => controls.note(note),
    settled,
    tell,
  });
  wireHelp(root, { attemptId, csrf, settled, typed: () => sheet.typed() });

  let shown = root.dataset.part ?? '';
  if (shown !== '' && document.querySelector('.has-problem') === null) sheet.show(shown);

  /** Buttons that say how the bench stands, and the part of the sheet that belongs to where one has moved. */
  function showWhere({ now, controls: buttons, lists }: SeenAction): void {
    for (const { id, label, action, pressed } of buttons ?? []) {
      const button = document.getElementById(id);
      if (button === null) continue;
      button.textContent = label;
      button.dataset.action = JSON.stringify(action);
      if (button.hasAttribute('aria-pressed')) button.setAttribute('aria-pressed', String(pressed));
    }
    for (const list of lists ?? []) showList(root, list);
    const part = now.part ?? '';
    if (part !== shown && part !== '') sheet.show(part);
    shown = part;
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
