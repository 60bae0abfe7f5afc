import type { KindName } from '../../../server/engine/index.ts';

/** How a section through the engine moves in one action; its drawing where another lobe is looked at. */
export interface SectionRun {
  readonly camDeg: readonly number[];
  readonly tappetMm: readonly number[];
  readonly svg?: string;
}

/** The work beside the dial of a replay: a section, a run an action; or a scene, a view an action, null where it stands as before. */
export type ReplayWorkData =
  | { readonly sections: readonly SectionRun[] }
  | {
      readonly brief: { readonly kind: KindName };
      readonly first: unknown;
      readonly views: readonly unknown[];
    };

/** How the work stood after an action, from the views that changed. Before the first it stands as at first. */
export function viewAt(first: unknown, views: readonly unknown[], at: number): unknown {
  return views.slice(0, at + 1).findLast((view) => view !== null) ?? first;
}

/** The drawing of the lobe that was looked at during an action; null before any was. */
export function sectionAt(sections: readonly SectionRun[], at: number): string | null {
  return sections.slice(0, at + 1).findLast(({ svg }) => svg !== undefined)?.svg ?? null;
}
