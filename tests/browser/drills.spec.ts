import { AxeBuilder } from '@axe-core/playwright';
import { expect, type Locator, type Page, test } from '@playwright/test';
import { demoPassword } from '../support/agent.ts';
import { startServer, type TestServer } from '../support/server.ts';

let server: TestServer;
test.beforeAll(async () => {
  server = await startServer();
});
test.afterAll(() => server.stop());

/** Goes on by Tab until that is reached, as a person without a mouse does. */
async function tabTo(page: Page, wanted: Locator): Promise<void> {
  const isThere = () => wanted.evaluate((one) => one === one.ownerDocument.activeElement);
  for (let n = 0; n < 60 && !(await isThere()); n += 1) await page.keyboard.press('Tab');
  await expect(wanted).toBeFocused();
}

async function press(page: Page, name: string): Promise<void> {
  await tabTo(page, page.getByRole('button', { name, exact: true }));
  await page.keyboard.press('Enter');
}

async function write(page: Page, label: string, text: string): Promise<void> {
  await tabTo(page, page.getByRole('textbox', { name: label }));
  await page.keyboard.type(text);
}

/** What stands on the dial: the angles of its hands, and what is printed on it. */
async function look(page: Page) {
  return page.locator('svg.dial-drawing').evaluate((svg) => {
    const turned = (part: string) =>
      Number(
        /rotate\(([-\d.]+)/.exec(
          svg.querySelector(`[data-part="${part}"]`)?.getAttribute('transform') ?? '',
        )?.[1],
      ) / 360;
    const print = [...svg.querySelectorAll('.dial-print text')].map((one) => one.textContent ?? '');
    return {
      pointer: turned('pointer'),
      hand: svg.querySelector('[data-part="counter"]') === null ? null : turned('counter'),
      handTurns: Math.max(
        ...[...svg.querySelectorAll('.dial-numerals[font-size="14"] text')].map(
          (one) => Number(one.textContent) + 1,
        ),
        0,
      ),
      graduation: Number(/^([\d.]+) (in|mm)$/.exec(print[0] ?? '')?.[1]),
      perTurn: Number(/1 turn ([\d.]+)/.exec(print.join(' '))?.[1]),
    };
  });
}

/** Watches with the eye only: turns are counted as the pointer's angle comes round, whichever way it runs. */
async function countTurns(page: Page): Promise<void> {
  await page.locator('svg.dial-drawing').evaluate((svg) => {
    const hand = svg.querySelector('[data-part="pointer"]');
    const angle = () => Number(/rotate\(([-\d.]+)/.exec(hand?.getAttribute('transform') ?? '')?.[1]) / 360;
    let last = angle();
    let counted = 0;
    new MutationObserver(() => {
      const now = angle();
      const way = ((((now - last) % 1) + 1.5) % 1) - 0.5;
      counted += way;
      last = now;
      svg.ownerDocument.body.setAttribute('data-counted', String(counted));
    }).observe(svg, { subtree: true, attributes: true, attributeFilter: ['transform'] });
  });
}

test('a round of ten is read off the screen by keyboard alone', async ({ page }) => {
  test.setTimeout(240_000);
  await page.goto(`${server.url}/sign-in`);
  await page.getByLabel('Sign-in name').fill('003201');
  await page.getByLabel('Password', { exact: true }).fill(demoPassword('003201'));
  await page.getByRole('button', { name: 'Sign in' }).click();
  await page.getByRole('link', { name: 'Drills', exact: true }).click();
  await expect(page.getByText('No dial is answered yet.')).toBeVisible();
  await press(page, 'Begin a round of ten');

  for (let number = 1; number <= 10; number += 1) {
    await expect(page.getByRole('heading', { level: 1 })).toHaveText(`Dial ${number} of 10`);
    await expect(page.locator('#drill')).toHaveAttribute('data-busy', 'false');
    const before = await look(page);
    await tabTo(page, page.locator('input[name="speed"]:checked'));
    await page.keyboard.press('ArrowRight');
    await countTurns(page);
    await press(page, 'Watch it move');
    await expect(page.locator('#drill-said')).toHaveText('The pointer stands where it came to.', {
      timeout: 20_000,
    });
    await expect(page.locator('#drill')).toHaveAttribute('data-busy', 'false');
    await expect(page.locator('#spoken')).toContainText('Pointer');
    const after = await look(page);
    const counted = Number(await page.locator('body').getAttribute('data-counted'));
    const perTurn = Math.round(after.perTurn / after.graduation);
    const size = Math.round(Math.abs(counted) * perTurn);
    const turns = Math.floor(size / perTurn);
    await write(page, 'Turns', String(turns));
    await write(page, 'Pointer', String(size - turns * perTurn));
    if (before.hand !== null && after.hand !== null) {
      await write(page, 'Small hand before', (before.hand * before.handTurns).toFixed(1));
      await write(page, 'Small hand after', (after.hand * after.handTurns).toFixed(1));
    }
    // The seventh is missed by a turn, as happens.
    const written = size + (number === 7 ? perTurn : 0);
    await write(page, 'Reading', (Math.sign(counted) * written * after.graduation).toFixed(4));
    await press(page, 'Check it');
    await expect(page.getByRole('heading', { level: 1 })).toHaveText(
      number === 7 ? `Dial 7 of 10: off by ${perTurn} graduations` : `Dial ${number} of 10: right`,
    );
    await expect(page.getByText('The gauge showed')).toBeVisible();
    if (number === 1 || number === 7) {
      const { violations } = await new AxeBuilder({ page })
        .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa', 'best-practice'])
        .analyze();
      expect(violations.map(({ id }) => id)).toEqual([]);
    }
    if (number < 10) await press(page, 'Next dial');
  }
  await expect(page.locator('.drill-evidence')).toContainText('Nine of the last ten within one graduation.');
  await expect(
    page.getByRole('table', { name: 'The dials of this round' }).getByText('no', { exact: true }),
  ).toHaveCount(1);
  for (const width of [360, 820, 1440]) {
    await page.setViewportSize({ width, height: 900 });
    const wide = await page.locator('html').evaluate((html) => html.scrollWidth - html.clientWidth);
    expect(wide, `the end of a round at ${width} px`).toBe(0);
  }
  await page.getByRole('link', { name: 'My record' }).click();
  await expect(page.getByRole('table', { name: 'The figures, in graduations' })).toContainText('10');
});
