import { type DialFace, type DialFrame, defineDialFace } from './elements/dial-element.ts';
import { need } from './elements/need.ts';
import { ActionQueue, type BatchAnswer } from './models/action-queue.ts';
import { type SpokenFace, type SpokenMoment, spokenAtRest, spokenPassings } from './models/spoken.ts';
import { postJson } from './models/talk.ts';

/** What a drill's pointer shows at one moment. */
interface DrillSample {
  readonly pointer: number;
  readonly counter: number | null;
  readonly plungerMm: number;
}

interface DrillSeen {
  readonly samples: readonly DrillSample[];
  readonly now: { readonly made: boolean; readonly sample: DrillSample };
}

type DrillAction = { readonly type: 'watch' | 'watch-back'; readonly speed: number };

const FASTEST = 5;
/** Turns of the pointer in one sample at most, as the server gives them. */
const SAMPLE_TURNS = 0.2;

/** The page of a drill: asks the server for the movement, shows it, and says what an eye would see. */
function start(): void {
  defineDialFace();
  const root = need<HTMLElement>(document, '#drill');
  const dial = need<DialFace>(root, 'dial-face');
  const spoken = need<HTMLElement>(root, '#spoken');
  const face = JSON.parse(root.dataset.face ?? '{}') as SpokenFace;
  const speed = () =>
    Number(root.querySelector<HTMLInputElement>('input[name="speed"]:checked')?.value ?? 0.6);
  let coming: SpokenMoment[] = [];
  let last = 0;

  /** In an element of its own, so that the same words are read out again. */
  const say = (words: string) => {
    const line = document.createElement('span');
    line.textContent = words;
    spoken.replaceChildren(line);
  };

  dial.addEventListener('dial-frame', (event) => {
    const index = (event as CustomEvent<DialFrame>).detail.share * last;
    while (coming[0] !== undefined && coming[0].index <= index + 1e-6) say(coming.shift()?.words ?? '');
  });

  async function play(
    samples: readonly DrillSample[],
    rest: DrillSample,
    turnsASecond: number,
  ): Promise<void> {
    coming = spokenPassings(samples, face);
    last = samples.length - 1;
    const turns = turnsOf(samples, face.graduations);
    const timed = samples.map((sample) => ({ ...sample, deg: null, effort: null }));
    await dial.play(timed, (1000 * turns) / turnsASecond);
    dial.show(rest);
    say(spokenAtRest(rest, face));
  }

  let going: Promise<void> = Promise.resolve();
  const enqueue = (work: () => Promise<void>) => {
    root.dataset.busy = 'true';
    const mine = going.then(work).catch(() => undefined);
    going = mine;
    void mine.then(() => {
      if (going === mine) root.dataset.busy = 'false';
    });
  };
  root.dataset.busy = 'false';

  const again = root.querySelector<HTMLButtonElement>('[data-watch="again"]');
  if (again !== null) {
    const samples = JSON.parse(need(root, '#samples').textContent ?? '[]') as DrillSample[];
    const rest = samples.at(-1);
    again.addEventListener('click', () => enqueue(async () => rest && play(samples, rest, speed())));
    return;
  }

  const said = need<HTMLElement>(root, '#drill-said');
  const queue = new ActionQueue<DrillAction, DrillSeen>(Number(root.dataset.next ?? 0), {
    send: (from, actions) =>
      postJson<BatchAnswer<DrillSeen>>(root.dataset.actions ?? '', root.dataset.csrf ?? '', {
        from,
        actions,
      }),
    keep: () => undefined,
    wait: (milliseconds) => new Promise((resolve) => window.setTimeout(resolve, milliseconds)),
    tell: (state, message) => {
      if (state === 'away') said.textContent = 'No connection. It tries again by itself.';
      if (state === 'refused') said.textContent = message ?? 'This was not taken. Reload the page.';
    },
  });

  async function watch(type: DrillAction['type']): Promise<void> {
    const isOut = type === 'watch';
    // Where the pointer has run already, it is put back first without a show: so the same button shows it again.
    if ((root.dataset.made === 'true') === isOut)
      await queue.do({ type: isOut ? 'watch-back' : 'watch', speed: FASTEST });
    const seen = await queue.do({ type, speed: speed() });
    said.textContent = 'The pointer is moving.';
    await play(seen.samples, seen.now.sample, speed());
    root.dataset.made = String(seen.now.made);
    said.textContent = isOut
      ? 'The pointer stands where it came to.'
      : 'The pointer stands at its zero again.';
  }

  for (const button of root.querySelectorAll<HTMLButtonElement>('[data-watch]')) {
    const type = button.dataset.watch === 'watch-back' ? 'watch-back' : 'watch';
    button.addEventListener('click', () => enqueue(() => watch(type)));
  }
}

/** Turns of the pointer in a run; the last sample tells no more than the others do. */
function turnsOf(samples: readonly DrillSample[], graduations: number): number {
  let turns = 0;
  samples.forEach((sample, index) => {
    const before = samples[index - 1]?.pointer ?? sample.pointer;
    const way = Math.abs(sample.pointer - before) / graduations;
    turns += Math.min(way, 1 - way, SAMPLE_TURNS);
  });
  return turns;
}

start();
