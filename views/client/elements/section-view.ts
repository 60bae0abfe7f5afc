import { cutawayTransforms } from '../../drawing/index.ts';
import { shortWay } from '../models/interpolate.ts';
import type { SectionRun } from '../models/replay-work.ts';
import { inSight } from './in-sight.ts';
import { setChanged } from './set-changed.ts';

/** The section through the engine, in practice: cam, tappet and rod move with the gauge. */
export class SectionView {
  readonly #place: HTMLElement | null;
  readonly #inSight: () => boolean;
  #run: SectionRun | null = null;
  #parts = new Map<string, Element | null>();

  constructor(place: HTMLElement | null) {
    this.#place = place;
    this.#inSight = inSight(place);
  }

  begin(run: SectionRun | undefined): void {
    this.#run = run ?? null;
    // The markup is the server's own drawing; nothing a person typed goes into it.
    if (this.#place === null || run?.svg === undefined) return;
    this.#place.innerHTML = run.svg;
    this.#parts.clear();
  }

  /** A share of the action is gone, 0 to 1. On the way only what is in sight moves. */
  follow(share: number): void {
    const { camDeg = [], tappetMm = [] } = this.#run ?? {};
    if (this.#place === null || camDeg.length === 0 || (share < 1 && !this.#inSight())) return;
    const at = Math.min(Math.max(share, 0), 1) * (camDeg.length - 1);
    const low = Math.floor(at);
    const part = at - low;
    const [deg = 0, mm = 0] = [camDeg[low], tappetMm[low]];
    const transforms = cutawayTransforms({
      camDeg: deg + part * shortWay(deg, camDeg[low + 1] ?? deg, 360),
      tappetMm: mm + part * ((tappetMm[low + 1] ?? mm) - mm),
    });
    for (const [name, transform] of Object.entries(transforms))
      setChanged(this.#part(name), 'transform', transform);
  }

  /** Found once a drawing, not at every frame. */
  #part(name: string): Element | null {
    const kept = this.#parts.get(name);
    if (kept !== undefined) return kept;
    const found = this.#place?.querySelector(`[data-part="${name}"]`) ?? null;
    this.#parts.set(name, found);
    return found;
  }
}
