import { cutawaySvg } from '../../views/drawing/index.ts';
import {
  type AnyAction,
  act,
  type CamLiftBench,
  type CamLiftState,
  camSection,
  camSectionRun,
  isKind,
} from '../engine/index.ts';
import type { Way } from '../labsheets/index.ts';
import type { Folded } from './folded.ts';

/** The section through the engine for one action, in practice: how it moves, and its drawing where another lobe is looked at. */
export interface PageSection {
  readonly camDeg: readonly number[];
  readonly tappetMm: readonly number[];
  readonly svg?: string;
}

type Engine = { readonly bench: CamLiftBench; readonly state: CamLiftState };

/** A bench whose section may be shown: cam lift, and only where nothing is graded. It holds the truth. */
function openEngine({ bench, state }: Folded, way: Way): Engine | null {
  return way === 'practice' && isKind(bench, 'cam-lift') ? { bench, state: state as CamLiftState } : null;
}

/** The section as it stands; null where it is closed, or no lobe has been chosen. */
export function sectionSvg(folded: Folded, way: Way): string | null {
  const engine = openEngine(folded, way);
  return engine === null ? null : drawn(engine);
}

/** Whether a page of this attempt has a place for the section. */
export function hasSection(folded: Folded, way: Way): boolean {
  return openEngine(folded, way) !== null;
}

function drawn({ bench, state }: Engine): string | null {
  const section = camSection(bench, state);
  if (section === null) return null;
  return cutawaySvg(
    { ...section, figures: false },
    { id: 'section', title: `Section at position ${section.position}` },
  );
}

/** The section all through a batch, action by action; nothing where it is closed. */
export function sectionRuns(before: Folded, actions: readonly AnyAction[], way: Way): (PageSection | null)[] {
  const engine = openEngine(before, way);
  if (engine === null) return actions.map(() => null);
  const { bench } = engine;
  let { state } = engine;
  return (actions as readonly Parameters<typeof camSectionRun>[2][]).map((action) => {
    const run = camSectionRun(bench, state, action);
    const { position } = state;
    state = act(bench, state, action).state;
    const svg = state.position === position ? null : drawn({ bench, state });
    return {
      camDeg: run.map(({ camDeg }) => Math.round(camDeg * 10) / 10),
      tappetMm: run.map(({ tappetMm }) => Math.round(tappetMm * 100) / 100),
      ...(svg === null ? {} : { svg }),
    };
  });
}
