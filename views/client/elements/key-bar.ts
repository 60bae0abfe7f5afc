/**
 * Single keys for the links and buttons of a bar that carry `data-key`, for as long as the focus is in the bar: nowhere else, so that nobody who
 * speaks or types into a field sets one off (WCAG 2.2, 2.1.4). The sentence that says so is shown once they work.
 */
export function keysOfBar(bar: HTMLElement): void {
  bar.addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const target = bar.querySelector<HTMLElement>(`[data-key="${CSS.escape(event.key.toLowerCase())}"]`);
    if (target === null) return;
    event.preventDefault();
    target.click();
  });
  for (const words of bar.querySelectorAll<HTMLElement>('[hidden]')) words.hidden = false;
}
