/** Arrow keys go from slide to slide; everything that is typed into or moved by them keeps them. */
const FORWARD = ['ArrowRight', 'PageDown'];
const BACK = ['ArrowLeft', 'PageUp'];

function slideIn(slides: readonly HTMLElement[]): number {
  const middle = window.innerHeight / 2;
  return slides.findIndex((slide) => {
    const { top, bottom } = slide.getBoundingClientRect();
    return top <= middle && bottom > middle;
  });
}

document.addEventListener('keydown', (event) => {
  const way = FORWARD.includes(event.key) ? 1 : BACK.includes(event.key) ? -1 : 0;
  const isTaken = event.target instanceof Element && event.target.closest('input, select, textarea') !== null;
  if (way === 0 || isTaken || event.ctrlKey || event.metaKey || event.altKey) return;
  const slides = [...document.querySelectorAll<HTMLElement>('.slide')];
  const next = slides[slideIn(slides) + way];
  if (next === undefined) return;
  event.preventDefault();
  next.scrollIntoView({ block: 'start' });
});
