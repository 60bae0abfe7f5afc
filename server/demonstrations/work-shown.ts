import type { ReplayWorkData } from '../../views/client/models/replay-work.ts';
import { cutawaySvg } from '../../views/drawing/index.ts';
import { sceneOf } from '../../views/scenes/index.ts';
import {
  type AnyAction,
  type AnyBench,
  type AnyState,
  act,
  brief,
  type CamLiftBench,
  type CamLiftState,
  camSection,
  camSectionRun,
  isKind,
  lookAt,
  startBench,
} from '../engine/index.ts';
import { deskOf } from '../kinds/index.ts';

/** The work itself beside the dial of a demonstration: how it looks at first, and all that follows. */
export interface WorkShown {
  readonly title: string;
  readonly svg: string;
  readonly json: string;
}

/** Points kept of a movement, for a drawing: six degrees of crank in two turns. */
const MOST_POINTS = 120;

/** The drawing of the work through all of its actions; null where the kind has none. It holds the truth of the bench. */
export function workShown(bench: AnyBench, actions: readonly AnyAction[]): WorkShown | null {
  const shown = isKind(bench, 'cam-lift') ? sectionShown(bench, actions) : sceneShown(bench, actions);
  if (shown === null) return null;
  return {
    title: titleOf(bench),
    svg: shown.svg,
    json: JSON.stringify(shown.data).replaceAll('<', '\\u003c'),
  };
}

type Shown = { readonly svg: string; readonly data: ReplayWorkData } | null;

/** Cut open at the pump position that is worked on, the cam and the tappet moving. */
function sectionShown(bench: CamLiftBench, actions: readonly AnyAction[]): Shown {
  let state = startBench(bench) as CamLiftState;
  const sections = (actions as readonly Parameters<typeof camSectionRun>[2][]).map((action) => {
    const run = camSectionRun(bench, state, action);
    const { position } = state;
    state = act(bench, state, action).state as CamLiftState;
    const kept = thinned(run);
    const svg = state.position === position ? null : sectionOf(bench, state);
    return {
      camDeg: kept.map(({ camDeg }) => Math.round(camDeg * 10) / 10),
      tappetMm: kept.map(({ tappetMm }) => Math.round(tappetMm * 100) / 100),
      ...(svg === null ? {} : { svg }),
    };
  });
  return { svg: sections.find(({ svg }) => svg !== undefined)?.svg ?? '', data: { sections } };
}

function sectionOf(bench: CamLiftBench, state: CamLiftState): string | null {
  const section = camSection(bench, state);
  if (section === null) return null;
  const title = `Section at position ${section.position}`;
  return cutawaySvg({ ...section, figures: false }, { id: 'section', title });
}

function thinned<T>(run: readonly T[]): readonly T[] {
  const stride = Math.max(1, Math.ceil(run.length / MOST_POINTS));
  return run.filter((_, index) => index % stride === 0 || index === run.length - 1);
}

/** What a person standing there would see of it, action by action; an action that changes nothing but the gauge is left out. */
function sceneShown(bench: AnyBench, actions: readonly AnyAction[]): Shown {
  const scene = sceneOf(bench.kind);
  if (scene === null) return null;
  const plate = brief(bench);
  let state: AnyState = startBench(bench);
  const first = lookAt(bench, state);
  let before = standing(first);
  const views = actions.map((action) => {
    state = act(bench, state, action).state;
    const view = lookAt(bench, state);
    const now = standing(view);
    if (now === before) return null;
    before = now;
    return view;
  });
  const svg = scene.draw(plate, first, {
    id: 'scene',
    title: titleOf(bench),
    description: scene.describe(plate, first),
  });
  return { svg, data: { brief: plate, first, views } };
}

const titleOf = (bench: AnyBench) => `${deskOf(bench.kind).title}: the work`;

const standing = (view: object) => JSON.stringify({ ...view, sample: null });
