/** Tells whether a place of the page is on the screen, or nearly: what is not need not move there. */
export function inSight(place: Element | null): () => boolean {
  if (place === null) return () => false;
  let seen = true;
  new IntersectionObserver(
    (entries) => {
      seen = entries.at(-1)?.isIntersecting ?? seen;
    },
    { rootMargin: '80px' },
  ).observe(place);
  return () => seen;
}
