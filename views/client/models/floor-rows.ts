/** Rows to be put on the page: those that are new, and those that differ from what stands there. */
export function changedRows(
  there: readonly { readonly id: string; readonly text: string }[],
  next: readonly { readonly id: string; readonly text: string }[],
): readonly { readonly id: string; readonly isNew: boolean }[] {
  const before = new Map(there.map(({ id, text }) => [id, text]));
  return next
    .filter(({ id, text }) => before.get(id) !== text)
    .map(({ id }) => ({ id, isNew: !before.has(id) }));
}
