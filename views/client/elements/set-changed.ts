/** Sets an attribute only where it says something else: the browser lays out and paints again whatever is set, the same or not. */
export function setChanged(element: Element | null, name: string, value: string): void {
  if (element !== null && element.getAttribute(name) !== value) element.setAttribute(name, value);
}
