/** An action as it is sent; the server checks it. */
export type SentAction = { readonly type: string } & Readonly<Record<string, string | number | boolean>>;

/**
 * The action a button stands for: its own, the one chosen in its list, what it does to the thing chosen, or its own with the number typed
 * beside it. Null where the number cannot be read; then the reason stands beside the box.
 */
export function actionOf(root: ParentNode, button: HTMLButtonElement): SentAction | null {
  const { action, choose, pick, actions, amount, field } = button.dataset;
  if (choose !== undefined) return parse(listIn(root, choose).value);
  if (pick !== undefined)
    return (JSON.parse(actions ?? '[]') as SentAction[])[Number(listIn(root, pick).value)] ?? null;
  const own = parse(action ?? '');
  if (amount === undefined || field === undefined || own === null) return own;
  const number = amountIn(root, amount);
  return number === null ? null : { ...own, [field]: number };
}

const parse = (text: string) => (text === '' ? null : (JSON.parse(text) as SentAction));

function listIn(root: ParentNode, id: string): HTMLSelectElement {
  const list = root.querySelector<HTMLSelectElement>(`select[id="${id}"]`);
  if (list === null) throw new Error(`The page has no list ${id}`);
  return list;
}

function amountIn(root: ParentNode, id: string): number | null {
  const input = root.querySelector<HTMLInputElement>(`input[id="${id}"]`);
  const problem = root.querySelector<HTMLElement>(`[id="${id.replace(/-amount$/, '-problem')}"]`);
  if (input === null) throw new Error(`The page has no box ${id}`);
  const { least, most } = { least: Number(input.min), most: Number(input.max) };
  const fits = input.value !== '' && input.valueAsNumber >= least && input.valueAsNumber <= most;
  input.toggleAttribute('aria-invalid', !fits);
  if (problem !== null) {
    problem.hidden = fits;
    problem.textContent = fits ? '' : `Write a number from ${least} to ${most}.`;
  }
  return fits ? input.valueAsNumber : null;
}
