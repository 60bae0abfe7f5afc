/** What a drag round the crank does at the engine. */
export interface DragParts {
  /** Takes hold; `take` gives the degrees dragged since it was last asked, `held` whether it still is. */
  hold(take: () => number, held: () => boolean): void;
}

/**
 * Lets the crank be turned by dragging round its middle, with mouse, pen or finger. The buttons, steps and keys do the same without
 * dragging.
 */
export class CrankDrag {
  #degrees = 0;
  #from: number | null = null;

  constructor(crank: SVGElement, parts: DragParts) {
    const angleOf = (event: PointerEvent) => {
      const box = crank.getBoundingClientRect();
      const x = event.clientX - (box.left + box.width / 2);
      const y = event.clientY - (box.top + box.height / 2);
      return (Math.atan2(x, -y) * 180) / Math.PI;
    };
    crank.addEventListener('pointerdown', (event) => {
      if (event.button !== 0) return;
      event.preventDefault();
      crank.setPointerCapture(event.pointerId);
      this.#from = angleOf(event);
      this.#degrees = 0;
      parts.hold(
        () => this.#take(),
        () => this.#from !== null,
      );
    });
    crank.addEventListener('pointermove', (event) => {
      if (this.#from === null) return;
      const now = angleOf(event);
      // The short way round, so that passing twelve o'clock is no jump.
      this.#degrees += ((now - this.#from + 540) % 360) - 180;
      this.#from = now;
    });
    for (const end of ['pointerup', 'pointercancel', 'lostpointercapture'])
      crank.addEventListener(end, () => {
        this.#from = null;
      });
  }

  /** Whole degrees dragged and not yet asked for. */
  #take(): number {
    const whole = Math.trunc(this.#degrees);
    this.#degrees -= whole;
    return whole;
  }
}
