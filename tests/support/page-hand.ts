// What runs inside the page is written here too.
/// <reference lib="dom" />
/// <reference lib="dom.iterable" />
import { expect, type Page } from '@playwright/test';

/** One element of the page: the `nth` that a CSS selector finds. */
export interface Target {
  readonly css: string;
  readonly nth?: number;
}

/** A way to work a page: what a person does with a control, by real input alone. */
export interface Hand {
  press(target: Target): Promise<void>;
  /** Chooses the option at this place of a list. */
  choose(list: Target, place: number): Promise<void>;
  /** Chooses one of a set of radio buttons, found by its name, by its value. */
  pick(name: string, value: string): Promise<void>;
  write(box: Target, text: string): Promise<void>;
}

/** Works the page with the mouse; a list of the browser's own is opened by no test, so there the choice is set. */
export class MouseHand implements Hand {
  readonly #page: Page;

  constructor(page: Page) {
    this.#page = page;
  }

  async press(target: Target): Promise<void> {
    const { x, y } = await this.#page.evaluate(
      ({ css, nth = 0 }) => {
        const found = document.querySelectorAll(css)[nth];
        if (found === undefined) throw new Error(`There is no ${css} number ${nth}.`);
        const shown = () => {
          const box = found.getBoundingClientRect();
          return { x: box.left + box.width / 2, y: box.top + box.height / 2 };
        };
        const isHit = ({ x, y }: { x: number; y: number }) => {
          const hit = document.elementFromPoint(x, y);
          return hit !== null && found.contains(hit);
        };
        if (!isHit(shown())) found.scrollIntoView({ block: 'center', behavior: 'instant' });
        if (!isHit(shown())) throw new Error(`Something lies over ${css} number ${nth}, or it is hidden.`);
        return shown();
      },
      { ...target },
    );
    await this.#page.mouse.click(x, y);
  }

  async choose({ css, nth = 0 }: Target, place: number): Promise<void> {
    await this.#page.locator(css).nth(nth).selectOption({ index: place });
  }

  async pick(name: string, value: string): Promise<void> {
    await this.press({ css: `label:has(input[name="${name}"][value="${value}"])` });
  }

  async write(box: Target, text: string): Promise<void> {
    await this.press(box);
    await this.#page.keyboard.press('Control+A');
    await this.#page.keyboard.type(text);
    await this.#page.keyboard.press('Tab');
  }
}

/** Tab stops looked through before a control counts as out of reach. */
const MOST_STOPS = 250;

/** Works the page with the keyboard alone: every control is reached by Tab or Shift+Tab from where one is. */
export class KeyHand implements Hand {
  readonly #page: Page;

  constructor(page: Page) {
    this.#page = page;
  }

  async press(target: Target): Promise<void> {
    await this.#reach(target);
    await this.#page.keyboard.press('Enter');
  }

  async choose(list: Target, place: number): Promise<void> {
    await this.#reach(list);
    const chosen = () =>
      this.#page.evaluate(
        ({ css, nth = 0 }) => (document.querySelectorAll(css)[nth] as HTMLSelectElement).selectedIndex,
        { ...list },
      );
    const from = await chosen();
    for (let step = 0; step < Math.abs(place - from); step += 1)
      await this.#page.keyboard.press(place > from ? 'ArrowDown' : 'ArrowUp');
    expect(await chosen()).toBe(place);
  }

  async pick(name: string, value: string): Promise<void> {
    const isChosen = () => this.#page.locator(`input[name="${name}"][value="${value}"]`).isChecked();
    if (await isChosen()) return;
    await this.#reach({ css: `input[name="${name}"]:checked` });
    for (let step = 0; step < 10 && !(await isChosen()); step += 1)
      await this.#page.keyboard.press('ArrowRight');
    expect(await isChosen()).toBe(true);
  }

  async write(box: Target, text: string): Promise<void> {
    await this.#reach(box);
    await this.#page.keyboard.press('Control+A');
    await this.#page.keyboard.type(text);
    await this.#page.keyboard.press('Tab');
  }

  /** Tabs to a control. The way is reckoned first, to look less often on the way; only the focus tells that one is there. */
  async #reach(target: Target): Promise<void> {
    let way = await this.#wayTo(target);
    for (let stops = 0; way !== 0; stops += Math.abs(way)) {
      if (stops > MOST_STOPS)
        throw new Error(`${target.css} number ${target.nth ?? 0} cannot be reached by keyboard.`);
      for (let step = 0; step < Math.abs(way); step += 1)
        await this.#page.keyboard.press(way > 0 ? 'Tab' : 'Shift+Tab');
      way = await this.#wayTo(target);
    }
  }

  async #wayTo(target: Target): Promise<number> {
    const { way, isShown } = await this.#page.evaluate(wayTo, { ...target });
    if (way === 0) expect(isShown, `${target.css} does not show that it has the focus`).toBe(true);
    return way;
  }
}

/**
 * How many stops on, or back, a control should be from the focus; 0 where it has the focus, and whether the focus is seen there then.
 * Runs in the page.
 */
function wayTo({ css, nth = 0 }: Target): { readonly way: number; readonly isShown: boolean } {
  const target = document.querySelectorAll<HTMLElement>(css)[nth];
  if (target === undefined) throw new Error(`There is no ${css} number ${nth}.`);
  const active = document.activeElement;
  if (active === target) {
    const box = target.getBoundingClientRect();
    const style = getComputedStyle(target);
    const isDrawn = style.outlineStyle !== 'none' || style.boxShadow !== 'none';
    const isOnScreen = box.bottom > 0 && box.top < window.innerHeight;
    return { way: 0, isShown: target.matches(':focus-visible') && isDrawn && isOnScreen };
  }
  const stops = [
    ...document.querySelectorAll<HTMLElement>(
      'a[href], button, input, select, textarea, summary, [tabindex]',
    ),
  ].filter(
    (one) =>
      one === target ||
      one === active ||
      (one.tabIndex >= 0 &&
        !one.matches(':disabled, input[type="hidden"], input[type="radio"]:not(:checked)') &&
        one.checkVisibility({ visibilityProperty: true })),
  );
  const [to, from] = [stops.indexOf(target), active instanceof HTMLElement ? stops.indexOf(active) : -1];
  // Equal is not there yet: the focus may stand on something that is no stop.
  return { way: to === from ? 1 : to - from, isShown: false };
}
