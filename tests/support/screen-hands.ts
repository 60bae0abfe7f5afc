// What runs inside the page is written here too.
/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import { expect, type Page, type Response } from '@playwright/test';
import type { Finished, Work } from '../../server/demonstrations/index.ts';
import type { ActionOf, BriefOf, KindName, SeenOf, ViewOf } from '../../server/engine/index.ts';
import { boxesOf, type ControlSet, deskOf, type SheetPart } from '../../server/kinds/index.ts';
import { type AtRest, expectShown, type PageSeen, readBench, saidIn } from './bench-sight.ts';
import { typedFrom } from './desk-typing.ts';
import type { Hand, Target } from './page-hand.ts';

type Turn = NonNullable<Awaited<ReturnType<typeof controlsOn>>['turn']>;

/** An action by its fields; numbers may differ by less than anyone could set. */
type Plain = Readonly<Record<string, unknown>>;

/** What is pressed for an action: what to set first, then the button, and how often. */
interface Press {
  readonly button: Target;
  readonly list?: { readonly target: Target; readonly place: number };
  readonly amount?: { readonly target: Target; readonly text: string };
  readonly times: number;
}

/** Actions after which the bench counts as in the middle of the work; every kind has more. */
const MIDDLE = 6;

/** Careful work carried out on the real page of a bench, by its controls alone. The page's clock must have been installed. */
export class ScreenHands<K extends KindName> {
  readonly #page: Page;
  readonly #hand: Hand;
  readonly #kind: K;
  /** Answers of the server so far: one for each press. */
  #came = 0;
  /** Actions carried out so far. */
  done = 0;

  constructor(page: Page, hand: Hand, kind: K) {
    this.#page = page;
    this.#hand = hand;
    this.#kind = kind;
    page.on('response', (response) => {
      if (response.url().endsWith('/actions')) this.#came += 1;
    });
  }

  /** Works until the work is done, then writes the sheet. `look` is called once in the middle, with the page's clock running. */
  async work(
    hands: (brief: BriefOf<K>, first: ViewOf<K>) => Work<K, Finished<K>>,
    look: () => Promise<void>,
  ): Promise<void> {
    await expect(this.#page.locator('#bench')).toHaveAttribute('data-busy', 'false');
    const told = await this.#page.locator('#bench-data').textContent();
    const { brief, view } = JSON.parse(told ?? '') as { brief: BriefOf<K>; view: ViewOf<K> };
    let now = view;
    const work = hands(brief, view);
    await this.#stopClock();
    let next = work.next();
    while (!next.done) {
      const seen = await this.#does(next.value, now);
      now = seen.now as ViewOf<K>;
      this.done += 1;
      expect(await labelsOn(this.#page)).toEqual(labelsOf(deskOf<K>(this.#kind).controls(brief, now)));
      if (this.done === MIDDLE) {
        await this.#page.clock.resume();
        await look();
        await this.#stopClock();
      }
      next = work.next(seen);
    }
    await this.#page.clock.resume();
    await this.#writes(brief, next.value.sheet);
  }

  async #does(action: ActionOf<K>, now: ViewOf<K>): Promise<SeenOf<K>> {
    const nothing = { said: [], samples: [], now } as unknown as SeenOf<K>;
    // What is written is written at the end, box by box.
    if (action.type === 'note') return nothing;
    // One button clamps and frees the bezel: nobody presses it for what is so already.
    const { clamped } = now as { clamped?: boolean };
    if ((action.type === 'clamp' && clamped === true) || (action.type === 'unclamp' && clamped === false))
      return nothing;
    const seen: PageSeen[] = [];
    for (const press of await this.#pressesFor(action as Plain)) {
      if (press.list !== undefined) await this.#hand.choose(press.list.target, press.list.place);
      if (press.amount !== undefined) await this.#hand.write(press.amount.target, press.amount.text);
      for (let time = 0; time < press.times; time += 1) seen.push(await this.#press(press.button));
    }
    return this.#together(seen) ?? nothing;
  }

  async #press(button: Target): Promise<PageSeen> {
    const before = this.#came;
    const coming = this.#page.waitForResponse((response) => response.url().endsWith('/actions'));
    await this.#hand.press(button);
    const seen = await firstSeen(await coming);
    // Nobody sits through what turns: time runs on until it stands.
    let shown = await this.#later();
    for (let tries = 0; shown.busy && tries < 100; tries += 1) shown = await this.#later();
    expect(shown.busy).toBe(false);
    expectShown(shown, seen);
    expect(this.#came).toBe(before + 1);
    if (seen.now.sample === null || shown.dial === null) return seen;
    const { pointer } = shown.dial;
    const sample = { ...seen.now.sample, pointer };
    const samples = seen.samples.map((one, at) => (at === seen.samples.length - 1 ? sample : one));
    return { ...seen, samples, now: { sample }, view: { ...seen.view, ...withSample(seen.view, pointer) } };
  }

  /** Time stands but for what is waited: no frame is drawn that nobody looks at. */
  async #stopClock(): Promise<void> {
    await this.#page.clock.pauseAt((await this.#page.evaluate(() => Date.now())) + 1000);
  }

  /** Two frames later, the first to begin a movement and the second to end it. */
  async #later(): Promise<AtRest> {
    await this.#page.clock.fastForward(2000);
    await this.#page.clock.fastForward(2000);
    return readBench(this.#page);
  }

  /** Several presses of a step are one movement. */
  #together(all: readonly PageSeen[]): SeenOf<K> | null {
    const last = all.at(-1);
    if (last === undefined) return null;
    const said = all.flatMap(saidIn);
    const samples = all.flatMap((one, index) => (index === 0 ? one.samples : one.samples.slice(1)));
    const raw = samples.map(({ deg, effort, ...one }) => ({ ...one, crankDeg: deg, workDeg: deg, effort }));
    return { said, samples: raw, now: last.view } as unknown as SeenOf<K>;
  }

  async #pressesFor(action: Plain): Promise<readonly Press[]> {
    const { buttons, turn } = await controlsOn(this.#page);
    if (
      turn !== null &&
      isSame({ ...turn.action, degrees: 0 }, { ...without(action, turn.barred), degrees: 0 })
    )
      return this.#turns(turn, Number(action.degrees), action.speed);
    for (const button of buttons) {
      const place = button.offers.findIndex((one) => one !== null && isSame(one, action));
      const target = { css: '#bench button', nth: button.nth };
      if (place >= 0 && button.list === null) return [{ button: target, times: 1 }];
      if (place >= 0 && button.list !== null)
        return [{ button: target, list: { target: { css: `[id="${button.list}"]` }, place }, times: 1 }];
      const { amount, field, action: own } = button;
      if (amount === null || field === null || own === null) continue;
      if (!isSame({ ...own, [field]: 0 }, { ...action, [field]: 0 })) continue;
      const text = String(Number(Number(action[field]).toFixed(6)));
      return [{ button: target, amount: { target: { css: `[id="${amount}"]` }, text }, times: 1 }];
    }
    throw new Error(`No control of the page does ${JSON.stringify(action)}.`);
  }

  /** Turning by so much, in the steps there are, the largest first; as fast as was asked for, or as fast as it goes. */
  async #turns(turn: Turn, degrees: number, speed: unknown): Promise<readonly Press[]> {
    const wanted = speed === undefined ? Math.max(...turn.speeds) : Number(speed);
    if (turn.speeds.length > 0 && turn.speed !== wanted) await this.#hand.pick('speed', String(wanted));
    const presses: Press[] = [];
    let left = Math.abs(degrees);
    for (const step of [...turn.steps].sort((a, b) => b - a)) {
      const times = Math.floor(left / step + 1e-6);
      left -= times * step;
      if (times > 0)
        presses.push({ button: { css: `button[data-step="${Math.sign(degrees) * step}"]` }, times });
    }
    if (left > 1e-6) throw new Error(`No steps of the page make ${degrees}°.`);
    return presses;
  }

  /** Box by box as the form has them, each on the part of the sheet where it is. */
  async #writes(brief: BriefOf<K>, sheet: Finished<K>['sheet']): Promise<void> {
    const desk = deskOf<K>(this.#kind);
    const typed = typedFrom(desk, brief, sheet);
    for (const part of desk.form(brief)) await this.#writesPart(part, typed);
    await this.#page.clock.fastForward(2000);
    await expect(this.#page.locator('#save-state')).toHaveText('Saved.');
  }

  async #writesPart(
    part: SheetPart<ActionOf<K>>,
    typed: Readonly<Record<string, string | undefined>>,
  ): Promise<void> {
    const shown = this.#page.locator(`[data-part-boxes="${part.id}"]`);
    if (await shown.isHidden()) await this.#hand.press({ css: `[data-show-part="${part.id}"]` });
    await expect(shown).toBeVisible();
    for (const box of boxesOf([part])) {
      const text = typed[box.name];
      if (text === undefined) continue;
      const target = { css: `#sheet [name="${box.name}"]` };
      if (await this.#page.locator(target.css).isHidden())
        await this.#hand.press({ css: `#sheet details:has([name="${box.name}"]) > summary` });
      if (box.box === 'choice')
        await this.#hand.choose(target, 1 + box.options.findIndex(({ value }) => value === text));
      else await this.#hand.write(target, text);
      await expect(this.#page.locator(target.css)).toHaveValue(text);
    }
  }
}

async function firstSeen(response: Response): Promise<PageSeen> {
  expect(response.status()).toBe(200);
  const { seen } = (await response.json()) as { seen: readonly PageSeen[] };
  const [first] = seen;
  if (first === undefined) throw new Error('Nothing came back for an action.');
  return first;
}

/** The gauge of a view as it is drawn. */
function withSample(view: object, pointer: number) {
  return 'sample' in view ? { sample: { ...(view.sample as object), pointer } } : {};
}

/** Speed and hold of a bar belong to how it is turned. */
function without(action: Plain, barred: boolean): Plain {
  const { speed, hold: _, ...rest } = action;
  return barred ? rest : { ...rest, ...(speed === undefined ? {} : { speed }) };
}

function isSame(one: Plain, other: Plain): boolean {
  const names = Object.keys(one);
  if (names.length !== Object.keys(other).length) return false;
  return names.every((name) => {
    const [a, b] = [one[name], other[name]];
    return typeof a === 'number' && typeof b === 'number' ? Math.abs(a - b) < 1e-9 : a === b;
  });
}

/** What the controls of a desk say, by their ids: buttons their label, lists their name and what is to be chosen. */
function labelsOf(sets: readonly ControlSet<unknown>[]): Readonly<Record<string, string>> {
  const labels: Record<string, string> = {};
  for (const control of sets.flatMap(({ controls }) => controls)) {
    if (control.control === 'do') labels[control.id] = control.label;
    if (control.control === 'choose')
      labels[control.id] = [control.label, ...control.options.map(({ text }) => text)].join(', ');
  }
  return labels;
}

/** The same as the page shows it. */
function labelsOn(page: Page): Promise<Readonly<Record<string, string>>> {
  return page.evaluate(() => {
    const labels: Record<string, string> = {};
    for (const button of document.querySelectorAll<HTMLButtonElement>('#bench button[id]')) {
      const { action, amount, choose } = button.dataset;
      if (action !== undefined && amount === undefined) labels[button.id] = button.textContent ?? '';
      if (choose === undefined) continue;
      const list = document.getElementById(choose) as HTMLSelectElement;
      const name = document.querySelector(`label[for="${choose}"]`)?.textContent ?? '';
      labels[button.id] = [name, ...[...list.options].map(({ text }) => text)].join(', ');
    }
    return labels;
  });
}

/** Every button of the bench with the actions it can stand for as the page is now, and what turns there. */
function controlsOn(page: Page) {
  return page.evaluate(() => {
    const parse = (text: string | undefined) =>
      text === undefined || text === '' ? null : (JSON.parse(text) as Readonly<Record<string, unknown>>);
    const optionsOf = (id: string) => [...(document.getElementById(id) as HTMLSelectElement).options];
    const buttons = [...document.querySelectorAll<HTMLButtonElement>('#bench button')].map((button, nth) => {
      const { action, choose, pick, actions, amount, field } = button.dataset;
      const own = parse(action);
      const chosen = choose === undefined ? [] : optionsOf(choose).map(({ value }) => parse(value));
      const picked =
        pick === undefined ? [] : (JSON.parse(actions ?? '[]') as Readonly<Record<string, unknown>>[]);
      return {
        nth,
        action: own,
        list: choose ?? pick ?? null,
        amount: amount ?? null,
        field: field ?? null,
        offers: [...(own === null || amount !== undefined ? [] : [own]), ...chosen, ...picked],
      };
    });
    const turning = document.querySelector<HTMLElement>('[data-turn]');
    const radios = [...document.querySelectorAll<HTMLInputElement>('#bench input[name="speed"]')];
    const turn =
      turning === null
        ? null
        : {
            speeds: radios.map(({ value }) => Number(value)),
            speed: Number(radios.find(({ checked }) => checked)?.value ?? 0),
            action: parse(turning.dataset.turn),
            barred: turning.dataset.barred !== undefined,
            steps: [...turning.querySelectorAll<HTMLElement>('[data-step]')]
              .map(({ dataset }) => Number(dataset.step))
              .filter((step) => step > 0),
          };
    return { buttons, turn };
  });
}
