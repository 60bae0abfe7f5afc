import type { SeenAction } from './bench-screen.ts';

/** Puts a list of the bench as it reads now, and offers the thing that usually comes next where that is another than before. */
export function showList(
  root: ParentNode,
  { id, label, texts, first }: NonNullable<SeenAction['lists']>[number],
): void {
  const list = root.querySelector<HTMLSelectElement>(`select[id="${id}-list"]`);
  if (list === null) return;
  const name = root.querySelector(`label[for="${id}-list"]`);
  if (name !== null) name.textContent = label;
  texts.forEach((text, place) => {
    const option = list.options[place];
    if (option !== undefined) option.textContent = text;
  });
  // What was offered before is marked in the markup; a choice of the student's own stays where only words have changed.
  const offered = [...list.options].findIndex((option) => option.defaultSelected);
  if (offered === first) return;
  [...list.options].forEach((option, place) => {
    option.defaultSelected = place === first;
  });
  list.selectedIndex = first;
}
