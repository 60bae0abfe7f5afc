/** The one element of that kind; the view promises that it is there. */
export function need<E extends Element>(root: ParentNode, selector: string): E {
  const found = root.querySelector<E>(selector);
  if (found === null) throw new Error(`The page has no ${selector}`);
  return found;
}
