import { expect, type Page } from '@playwright/test';

/** What can be read off the picture of the dial: angles, and what follows from the printed face. */
export interface Sight {
  /** Pointer against the face, in graduations. */
  readonly pointer: number;
  /** Small hand, in turns. */
  readonly counter: number;
  /** The two together: turns from the small hand, the part of a turn from the pointer to the case. */
  readonly turnsIn: number;
}

export interface ScreenReading {
  readonly turns: number;
  readonly pointer: number;
  readonly lift: number;
  readonly returned: number;
}

export interface ScreenHabits {
  /** What is written for a reading; the default writes what was read. */
  readonly write?: (read: ScreenReading, position: number) => ScreenReading;
}

const PER_TURN = 100;
const RANGE_IN = 0.1;
const GRADUATION_IN = 0.001;

/**
 * A student at the practice engine's page with a 0.001 in gauge who has nothing but the screen: the pointer's angle, the small
 * hand, the mark on the damper, what is said, and the printed specification. It presses what a person would press. The page's
 * clock must have been installed (`page.clock.install()`): the student does not sit through what turns, and looks when it stands.
 */
export class ScreenStudent {
  readonly #page: Page;
  readonly #habits: ScreenHabits;

  constructor(page: Page, habits: ScreenHabits = {}) {
    this.#page = page;
    this.#habits = habits;
  }

  /** Measures every lobe the page asks for and fills in the sheet. */
  async workTheSheet(): Promise<void> {
    await this.#page.getByText('fast, 60°/s').click();
    const names = await this.#page.getByRole('button', { name: /^Position \d$/ }).allTextContents();
    expect(names.length).toBeGreaterThan(0);
    for (const name of names) await this.#measureLobe(Number(name.replace(/\D/g, '')));
  }

  async #measureLobe(position: number): Promise<void> {
    await this.#press(`Position ${position}`);
    await this.#seatHome();
    const nose = await this.#setDownOnBaseCircle();
    for (let n = 0; n < 3; n += 1) await this.#press('Lift the tip and let go');
    await this.#press('Turn bezel to zero');
    await this.#press('Clamp the bezel');
    const lifts: number[] = [];
    for (const number of [1, 2]) {
      const read = await this.#takeReading(nose);
      const written = this.#habits.write?.(read, position) ?? read;
      await this.#write(position, number, written);
      lifts.push(written.lift);
    }
    const mean = (lifts[0] ?? 0) / 2 + (lifts[1] ?? 0) / 2;
    await this.#judge(mean);
  }

  async #seatHome(): Promise<void> {
    let said = await this.#press('Seat the tappet');
    if (said.includes('far up')) {
      await this.#press('Turn tappet, slot to pin');
      said = await this.#press('Seat the tappet');
    }
    if (said.includes('dull')) said = await this.#press('Seat the tappet');
    expect(said).toContain('metal on metal');
  }

  /** In line with the bore, arm and base tight, the rod firm. */
  async #setRight(): Promise<void> {
    if (!(await this.#press('Look along the bore')).includes('in line')) await this.#press('Set it square');
    for (const name of ['Tighten the arm', 'Tighten the base', 'Seat the rod firmly'])
      await this.#press(name);
  }

  /** Goes round once to see how low the pointer goes and where the nose is, then stands where it has been still for 60°. */
  async #setDownOnBaseCircle(): Promise<number> {
    for (let tries = 0; tries < 4; tries += 1) {
      await this.#press('Let the indicator down');
      await this.#setRight();
      const round: { crank: number; turnsIn: number }[] = [];
      let cameOff = false;
      let barred = 0;
      let lately: number[] = [];
      const lowest = () => Math.min(...round.map(({ turnsIn }) => turnsIn));
      const stands = () => {
        const few = lately.slice(-7);
        return (
          few.length === 7 &&
          Math.max(...few) - Math.min(...few) <= 0.5 / PER_TURN &&
          Math.min(...few) - lowest() < 1.7 / PER_TURN
        );
      };
      while (barred < 720 || (!stands() && barred < 1500)) {
        const degrees = barred < 720 ? 30 : 10;
        const said = await this.#step(degrees);
        cameOff ||= said.includes('come off');
        barred += degrees;
        if (barred % 180 === 0) await this.#press('Press on the rod');
        const { turnsIn } = await this.#look();
        round.push({ crank: barred, turnsIn });
        lately = degrees === 10 ? [...lately, turnsIn] : [];
      }
      if (cameOff) continue;
      const top = round
        .filter(({ crank }) => crank <= 720)
        .reduce((best, one) => (one.turnsIn > best.turnsIn ? one : best));
      // Degrees from here to the nose's next coming.
      return (((top.crank - barred) % 720) + 720) % 720;
    }
    throw new Error('The base circle was not found.');
  }

  /** Two turns of the crank: up to the high point slowly, its turns and pointer, on to the base circle, the return. */
  async #takeReading(nose: number): Promise<ScreenReading> {
    const start = await this.#look();
    let high = start;
    let barred = 0;
    const go = async (degrees: number) => {
      await this.#step(degrees);
      barred += degrees;
      const now = await this.#look();
      if (now.turnsIn > high.turnsIn) high = now;
    };
    while (barred < nose - 45) await go(nose - 45 - barred >= 30 ? 30 : 10);
    while (barred < nose - 12) await go(10);
    while (barred < nose + 12) await go(1);
    while (barred < 720) await go(720 - barred >= 30 ? 30 : 720 - barred >= 10 ? 10 : 1);
    await this.#press('Press on the rod');
    const end = await this.#look();
    // The small hand tells how many whole turns, the pointer how many graduations past the last.
    const pointer = Math.round(high.pointer) % PER_TURN;
    const turns = Math.round(high.turnsIn - start.turnsIn - pointer / PER_TURN);
    const returned = Math.round(end.pointer > PER_TURN / 2 ? end.pointer - PER_TURN : end.pointer);
    return {
      turns,
      pointer,
      lift: turns * RANGE_IN + pointer * GRADUATION_IN,
      returned: returned * GRADUATION_IN,
    };
  }

  async #write(position: number, number: number, read: ScreenReading): Promise<void> {
    const lobe = this.#page.getByRole('region', { name: `Lobe at position ${position}` });
    const boxes = lobe.getByRole('group', { name: number === 1 ? 'First reading' : 'Second reading' });
    await boxes.getByLabel('Turns').fill(String(read.turns));
    await boxes.getByLabel('Pointer').fill(String(read.pointer));
    await boxes.getByLabel('Lift').fill(read.lift.toFixed(3));
    await boxes.getByLabel('Return').fill(read.returned.toFixed(3));
    await boxes.getByLabel('Return').blur();
  }

  /** The mean, the verdict by the printed limits, and what comes next. */
  async #judge(mean: number): Promise<void> {
    const shown = this.#page.locator('.lobe-boxes:visible');
    await shown.getByLabel('Lift of the lobe').fill(mean.toFixed(4));
    const words = (await this.#page.locator('#sheet').textContent()) ?? '';
    const between = /limits (\d*\.\d+) to (\d*\.\d+)\sin/.exec(words);
    const lower = Number(between?.[1] ?? /limits (\d*\.\d+)\sin or more/.exec(words)?.[1] ?? Number.NaN);
    const upper = Number(between?.[2] ?? Number.POSITIVE_INFINITY);
    expect(lower).toBeGreaterThan(0);
    const verdict =
      mean < lower - 1e-9
        ? 'Below the limits'
        : mean > upper + 1e-9
          ? 'Above the limits'
          : 'Inside the limits';
    await shown.getByLabel('Verdict').selectOption({ label: verdict });
    await shown.getByLabel('What next').selectOption({
      label: verdict === 'Inside the limits' ? 'Return to service' : 'Clean and measure again',
    });
  }

  async #press(name: string): Promise<string> {
    await this.#page.getByRole('button', { name, exact: true }).click();
    return this.#settled();
  }

  async #step(degrees: number): Promise<string> {
    await this.#page.locator(`button[data-step="${degrees}"]`).click();
    return this.#settled();
  }

  /** Waits until nothing moves any more, as a person does before looking; gives what is said. */
  async #settled(): Promise<string> {
    const bench = this.#page.locator('#bench');
    while ((await bench.getAttribute('data-busy')) !== 'false') await this.#page.clock.runFor(300);
    return (await this.#page.locator('#said').textContent()) ?? '';
  }

  async #look(): Promise<Sight> {
    const [pointerDeg, faceDeg, counterDeg] = await Promise.all(
      ['pointer', 'face', 'counter'].map((part) => this.#angleOf(part)),
    );
    const angles = { pointer: pointerDeg ?? 0, face: faceDeg ?? 0, counter: counterDeg ?? 0 };
    const part = (((angles.pointer % 360) + 360) % 360) / 360;
    const counter = ((((angles.counter % 360) + 360) % 360) / 360) * 10;
    // Past nine turns the small hand of a plunger hardly in stands just short of its zero.
    const signed = counter > 9 ? counter - 10 : counter;
    const against = (((((angles.pointer - angles.face) % 360) + 360) % 360) / 360) * PER_TURN;
    return { pointer: against, counter, turnsIn: Math.round(signed - part) + part };
  }

  /** By how much a part of the drawing is turned, as it stands on the screen. */
  async #angleOf(part: string): Promise<number> {
    const transform = await this.#page
      .locator(`dial-face [data-part="${part}"]`)
      .evaluate((drawn: SVGGElement) => {
        // What runs has been lifted off the drawing, and is turned with its layer.
        return drawn.ownerSVGElement?.style.transform || drawn.getAttribute('transform');
      });
    return Number(/rotate\(([-\d.e]+)/.exec(transform ?? '')?.[1]);
  }
}
